"""A preferment in the ratio panel: its kind, how much flour, and the stages."""

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Formula
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.panels.answer_html import alert, note, status
from bakelab.panels.controls import beside, choice, field, show
from bakelab.panels.layout import set_html
from bakelab.panels.ratio_answer import stages_table
from bakelab.preferments import Kind, kind, kinds, with_preferment
from bakelab.preferments.stages import main_rows
from bakelab.units import number

__all__ = ["PrefermentPart"]

_WET_G = 50.0  # water in 100 g of what can take the place of plain water
_ABOUT = (
    "Takes flour, liquid and yeast out of the dough and adds nothing, so that every "
    "overall percentage stays. A blank field takes the middle of the usual band."
)


class PrefermentPart:
    """The folded part of the panel that puts flour into a preferment or a scald.

    Parameters
    ----------
    formula : function
        Gives the formula at hand.
    made : function
        Gets the formula with the preferment.

    Attributes
    ----------
    open : ToggleButton
        Unfolds the part.
    kind, liquid : Dropdown
    flour, wet, yeast : Text
        Percent of all flour, and percent of that flour.
    make : Button
    told, stages : HTML
        What was done or refused; and the stages in grams, for the answer.
    view : widget
    """

    def __init__(
        self, formula: Callable[[], Formula], made: Callable[[Formula], None]
    ) -> None:
        self._formula, self._made = formula, made
        self._shown: Formula | None = None
        self.open = widgets.ToggleButton(description="Preferment")
        self.kind = choice("Kind of preferment", _choices())
        self.flour = field("Flour in it (% of all flour)", "")
        self.wet = field("Liquid in it (% of that flour)", "")
        self.yeast = field("Yeast in it (% of that flour)", "")
        self.liquid = choice("Which liquid", [("Water", "")])
        self.make = widgets.Button(description="Make the preferment")
        self.told, self.usual = widgets.HTML(), widgets.HTML()
        self.stages = widgets.HTML()
        self._box = widgets.VBox([
            widgets.HTML(note(_ABOUT)), beside(self.kind, self.liquid), self.usual,
            beside(self.flour, self.wet, self.yeast, least_px=95), self.make, self.told,
        ])  # fmt: skip
        self.view = widgets.VBox([self.open, self._box])
        for box in (self.view, self._box):
            box.layout.grid_gap = "8px"
        self._listen()
        self._choose()

    def show(self, formula: Formula) -> None:
        """Follow the formula at hand; what was said of another one goes."""
        if formula == self._shown:
            return
        self._shown = formula
        set_html(self.told, "")
        set_html(self.stages, stages_table(formula))
        options = _liquids(formula)
        if list(self.liquid.options) != options:
            self.liquid.options = options
        show(self.liquid, options != [("Water", "")])

    def _listen(self) -> None:
        self.open.add_class("bakelab-opener")
        self.open.observe(lambda _: self._fold(), "value")
        self.kind.observe(lambda _: self._choose(), "value")
        self.make.on_click(lambda _: self._try())
        self._fold()

    def _fold(self) -> None:
        is_open = bool(self.open.value)
        self.open.tooltip = "open; press to fold" if is_open else "folded"
        show(self._box, is_open)

    def _choose(self) -> None:
        chosen = kind(str(self.kind.value))
        self.flour.placeholder = f"usual: {chosen.middle('flour'):g}"
        self.wet.placeholder = f"usual: {chosen.middle('hydration'):g}"
        self.yeast.placeholder = "usual for its kind"
        show(self.yeast, chosen.rises)
        set_html(self.usual, note(_usual_words(chosen)))

    def _try(self) -> None:
        try:
            words = self._make()
        except BakelabError as error:
            set_html(self.told, alert([f"Preferment: {error}"]))
        else:
            set_html(self.told, status(words))

    def _make(self) -> str:
        chosen, before = kind(str(self.kind.value)), self._formula()
        flour_pct = _percent(self.flour)
        if flour_pct == 0:
            raise FormulaError("0 % of the flour makes none; give a share such as 30")
        after = with_preferment(
            before,
            chosen.key,
            flour_pct=flour_pct,
            hydration_pct=_percent(self.wet),
            yeast_pct=_percent(self.yeast) if chosen.rises else None,
            liquid=str(self.liquid.value) or None,
        )
        self._made(after)
        return _done(chosen, before, after)


def _choices() -> list[tuple[str, str]]:
    """Every kind that takes flour: a soaker takes grain, which is no share of it."""
    table = kinds()
    table = table[table["flour_high"] > 0]
    return list(zip(table["name"], table["kind"], strict=True))


def _liquids(formula: Formula) -> list[tuple[str, str]]:
    """Liquids of the final dough, plain water first; water where there is none."""
    rows = main_rows(formula)
    found = [("Water", "")] if any(r.role == "water" for r in rows) else []
    for row in rows:
        wet = row.role in ("liquid", "dairy") and is_ingredient(row.ingredient)
        if wet and ingredient(row.ingredient).water_g >= _WET_G:
            found.append((f"{row.label[:1].upper()}{row.label[1:]}", row.ingredient))
    return list(dict.fromkeys(found)) or [("Water", "")]


def _percent(control: Any) -> float | None:
    """What is written as a percentage; None for a blank field."""
    text = control.value.strip()
    if not text:
        return None
    try:
        return float(number(text.removesuffix("%").strip()))
    except (BakelabError, OverflowError):
        raise FormulaError(
            f"{control.value[:40]!r} is no percentage; write a number such as 30"
        ) from None


def _usual_words(chosen: Kind) -> str:
    facts = [
        f"{_band(chosen.flour)} % of all flour",
        f"liquid {_band(chosen.hydration)} %",
    ]
    if chosen.rises:
        facts.append(f"instant yeast {_band(chosen.yeast)} %")
    if chosen.salt_pct:
        facts.append(f"salt {chosen.salt_pct:g} %")
    if chosen.is_levain:
        facts.append("ripe starter for a third of its flour")
    hours = f"ready in {_band(chosen.hours)} h at about 21 °C"
    return f"Usual: {', '.join(facts)}; {hours} ({chosen.source})."


def _band(band: tuple[float, float]) -> str:
    low, high = band
    return f"{low:g} to {high:g}" if low < high else f"{low:g}"


def _done(chosen: Kind, before: Formula, after: Formula) -> str:
    stage = after.stages[0]
    inside = after.with_rows(r for r in after.rows if r.stage == stage)
    none = chosen.rises and inside.role_g("yeast") == 0
    without = " It has no yeast: the dough has none to give." if none else ""
    return (
        f"{stage[:1].upper()}{stage[1:]}: {inside.dough_g:.1f} g with "
        f"{100 * inside.flour_g / after.flour_g:.1f} % of all flour.{without} True "
        f"hydration {before.hydration_pct:.1f} % before and "
        f"{after.hydration_pct:.1f} % after. Undo takes it back; the button makes "
        "another one."
    )
