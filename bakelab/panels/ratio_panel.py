"""The panel of ratios: move one on purpose, see what the dough becomes."""

from collections.abc import Mapping
from typing import Any

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.panels import ratio_answer as html
from bakelab.panels.answer_html import alert, note
from bakelab.panels.controls import beside, heading
from bakelab.panels.current_recipe import formula_in
from bakelab.panels.layout import set_html, two_columns
from bakelab.panels.parts import kernel_loop
from bakelab.panels.preferment_part import PrefermentPart
from bakelab.panels.ratio_controls import (
    Ratio,
    RatioControls,
    ratio_pct,
    ratios_of,
    set_sliders,
    slider,
)
from bakelab.panels.shelf import BookShelf
from bakelab.panels.style_map_part import StyleMapPart
from bakelab.panels.trials import Trials
from bakelab.reading.saved import recipe_text
from bakelab.variants import Family, History, Variant, change, consequences

__all__ = ["RatioPanel"]

_JOB = (
    "Move one ratio and see what the dough becomes; every trial is kept with the one "
    "it came from, and nothing is overwritten."
)
_UNMOVED = "Nothing has moved from the parent yet."
_SAME = "It differs from the parent too little to say more."
_OUTPUTS = ("alert", "numbers", "strips", "table", "moves", "style_note", "family")
_SOON_S = 0.012  # moves that come closer together than this are answered once


class RatioPanel:
    """Sliders for the ratios of a formula, with their usual bands.

    Parameters
    ----------
    recipe : str or Formula
        A recipe's text, or a formula; by default the first sample recipe.

    Attributes
    ----------
    controls : RatioControls
    sliders : dict of str to FloatSlider
        By what they move: a role, ``"water"``, or a flour's key.
    formula, parent : Formula
        As it stands now, and the one it is compared with.
    family : Family
        Every variant that was kept, with its parent.
    preferment : PrefermentPart
        Puts a part of the flour into a stage of its own.
    shelf, trials : BookShelf, Trials
        What is kept in the bake book, and plans around the formula at hand.
    view : ipywidgets.Widget
        What the notebook shows.
    """

    def __init__(self, recipe: str | Formula = "") -> None:
        self.controls = RatioControls()
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.shelf = BookShelf(self._kept, self._take, named=False)
        self.trials = Trials(lambda: self.formula, self.shelf.book)
        self.preferment = PrefermentPart(lambda: self.formula, self._go)
        self.sliders: dict[str, Any] = {}
        self.map = StyleMapPart()
        self._slots = widgets.VBox()
        self._moves: dict[str, float] = {}
        self._timer: Any = None
        self._unread = ""  # why the text has no formula
        self._quiet = False
        self.view = self._layout()
        samples = [text for _, text in self.controls.sample.options if text]
        text = "" if isinstance(recipe, Formula) else recipe
        self.controls.text.value = text or samples[0]
        self._listen()
        if isinstance(recipe, Formula):
            self._take(recipe)
        else:
            formula = self._read()
            self._start(formula or formula_in(samples[0]))
            if formula is None:
                self._read()  # what is wrong stands above the first sample

    def move(self, what: str, value: float) -> None:
        """Set one ratio, in percent of flour, and show what follows."""
        self._moves[what] = value
        self._answer()

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)

    def _layout(self) -> Any:
        c, out = self.controls, self.outputs
        left = [
                heading("1  The formula"),
                beside(c.sample, c.family),
                self.shelf.taking,
                c.text,
                heading("2  Move a ratio"),
                c.hold,
                self._slots,
                self.preferment.view,
                beside(*c.buttons(), least_px=130),
                heading("3  Keep it"),
                beside(c.name, c.why),
                c.keep,
                self.shelf.keeping,
                heading("4  Plan trials"),
                self.trials.view,
            ]  # fmt: skip
        right = [
                out["alert"], out["numbers"], self.preferment.stages, c.style,
                out["style_note"], out["strips"], out["moves"], out["table"],
                self.map.view, out["family"],
            ]  # fmt: skip
        return two_columns(_JOB, left, right)

    def _listen(self) -> None:
        c = self.controls
        c.sample.observe(self._choose_sample, "value")
        c.text.observe(lambda _: self._begin(), "value")
        c.style.observe(lambda _: self._show(), "value")
        c.family.observe(self._choose_variant, "value")
        c.undo.on_click(lambda _: self._step(self.history.undo()))
        c.redo.on_click(lambda _: self._step(self.history.redo()))
        c.back.on_click(lambda _: self._go(self.parent))
        c.keep.on_click(lambda _: self._keep())

    def _choose_sample(self, event: Mapping[str, Any]) -> None:
        if event["new"]:
            self.controls.text.value = event["new"]

    def _begin(self) -> None:
        formula = None if self._quiet else self._read()
        if formula is not None:
            self._start(formula)

    def _take(self, formula: Formula) -> None:
        """Begin with a formula of the bake book; its words stand in the field."""
        self._quiet = True
        self.controls.sample.value = ""
        self.controls.text.value = recipe_text(formula)
        self._quiet = False
        self._start(formula)

    def _read(self) -> Formula | None:
        try:
            return formula_in(self.controls.text.value)
        except BakelabError as error:
            self._unread = f"Recipe: {error}"
        set_html(self.outputs["alert"], alert([self._unread]))
        return None

    def _start(self, formula: Formula) -> None:
        """Begin with a formula that nothing came before."""
        self._unread = ""
        self.formula = self.parent = formula
        self.history: History[Formula] = History(formula)
        root = Variant(formula, name=formula.title or "the recipe", why="as written")
        self.family = Family().add(root)
        self._parent_key = root.key
        self._quiet = True
        self.controls.family.options = [(root.name, root.key)]
        self._quiet = False
        self._lay_sliders()
        self.trials.offer()
        self._show()

    def _lay_sliders(self) -> None:
        self.sliders = {}
        for ratio in self._ratios():
            made = slider(ratio, ratio_pct(self.formula, ratio.what))
            made.observe(self._moved(ratio), "value")
            self.sliders[ratio.what] = made
        self._slots.children = tuple(self.sliders.values())

    def _ratios(self) -> tuple[Ratio, ...]:
        """Those of the formula at hand, and of the one that all began with."""
        return ratios_of(next(iter(self.family)).formula, self.formula)

    def _moved(self, ratio: Ratio) -> Any:
        def hear(event: Mapping[str, Any]) -> None:
            value = float(event["new"])
            # A slider rounds to its steps by itself: that is no move.
            off_pct = abs(value - ratio_pct(self.formula, ratio.what))
            rounded = off_pct <= 0.51 * ratio.step
            if not self._quiet and not (rounded and ratio.what not in self._moves):
                self._moves[ratio.what] = value
                self._soon()

        return hear

    def _soon(self) -> None:
        """Answer when the messages at hand are read: the latest value wins."""
        loop = kernel_loop()
        if loop is None:
            self._answer()
        elif self._timer is None:
            self._timer = loop.call_later(_SOON_S, self._answer)

    def _answer(self) -> None:
        self._timer = None
        moves, self._moves = self._moves, {}
        said: list[str] = []
        formula = self.formula
        for what, value in moves.items():
            try:
                done = change(formula, what, to=value, hold=self.controls.hold.value)
            except BakelabError as error:
                said.append(str(error))
                continue
            formula = done.formula
            said += done.not_held
        if formula is not self.formula:
            self.history.add(formula)
        self.formula = formula
        self._show(said)

    def _step(self, formula: Formula) -> None:
        self.formula = formula
        self._show()

    def _go(self, formula: Formula) -> None:
        self.history.add(formula)
        self._step(formula)

    def _keep(self) -> None:
        c = self.controls
        name = c.name.value.strip() or f"variant {len(self.family)}"
        variant = Variant(
            self.formula,
            name=name,
            why=c.why.value.strip(),
            parent_key=self._parent_key,
        )
        if self.family.has(variant.key):
            text = "this formula is kept already; move a ratio first"
            set_html(self.outputs["alert"], alert([text]))
            return
        self.family = self.family.add(variant)
        self.parent, self._parent_key = self.formula, variant.key
        c.name.value = c.why.value = ""
        self._quiet = True
        c.family.options = [(v.name, v.key) for v in self.family]
        c.family.value = variant.key
        self._quiet = False
        self._show()

    def _kept(self) -> list[Variant]:
        """What goes into the bake book: all variants, nothing that is not one yet."""
        if not self.family.has(Variant(self.formula, "").key):
            raise BakelabError(
                "this dough is not kept as a variant yet; press Keep as a variant first"
            )
        return list(self.family)

    def _choose_variant(self, event: Mapping[str, Any]) -> None:
        if self._quiet or not self.family.has(event["new"]):
            return
        variant = self.family.get(event["new"])
        self.parent, self._parent_key = variant.formula, variant.key
        self._go(variant.formula)

    def _show(self, said: list[str] | None = None) -> None:
        if [r.what for r in self._ratios()] != list(self.sliders):
            self._lay_sliders()
        self._quiet = True
        set_sliders(self.sliders, self.formula)
        self._quiet = False
        out, formula, parent = self.outputs, self.formula, self.parent
        set_html(out["alert"], alert([s for s in (self._unread, *(said or ())) if s]))
        style, reason = html.style_and_reason(self.controls.style.value, parent)
        set_html(out["numbers"], html.big_numbers(formula))
        set_html(out["style_note"], note(reason))
        set_html(out["strips"], html.strips(formula, parent, style))
        moves = consequences(parent, formula)
        still = _UNMOVED if formula == parent else _SAME
        set_html(out["moves"], html.sentences(moves, empty=still))
        set_html(out["table"], html.weights_table(formula, parent))
        tree = html.sentences(self.family.lines(), empty="")
        set_html(out["family"], f"<h2>Variants that were kept</h2>{tree}")
        c = self.controls
        c.undo.disabled = not self.history.can_undo
        c.redo.disabled = not self.history.can_redo
        c.back.disabled = formula == parent
        self.preferment.show(formula)
        self.map.soon(formula, parent)
