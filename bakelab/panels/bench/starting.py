"""Starting a bake from a kept formula: two clicks, with what is planned."""

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.errors import BakelabError, BookError
from bakelab.formula import Formula
from bakelab.oven import ExpectedBake, expected_bake, oven
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.part import tall_button
from bakelab.panels.bench.values import as_value, day_text
from bakelab.panels.controls import beside, choice, field, show
from bakelab.panels.current_recipe import formula_in
from bakelab.panels.layout import set_html
from bakelab.pans import pan as read_pan

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Starting", "planned_facts"]

_TAKEN_OVER = (
    "pan", "pan_count", "batch_factor", "oven", "baker", "planned_dough_c",
    "planned_proof_min", "planned_bake_min", "planned_oven_c",
)  # fmt: skip
_NONE = "no formula is kept yet: keep one below"


class Starting:
    """The controls that start a bake, and keep a recipe as a formula first.

    Attributes
    ----------
    variant, pan, batch, baker, start : widget
    expected : HTML
        The estimated time that the chosen formula brings, before it is started.
    recipe, name, keep : widget
    view : widget
    """

    def __init__(self, book: "BakeBook", started: Callable[[str], None]) -> None:
        self._book, self._started = book, started
        self.variant = choice("Formula or variant", [(_NONE, "")])
        self.pan = field("Pan", "as last time, or as the recipe says")
        self.batch = field("Batch (times)", "1")
        self.baker = field("Who bakes", "name or initials")
        self.start = tall_button("Start the bake", "primary")
        self.other = widgets.ToggleButton(description="Keep another recipe first")
        self.recipe = widgets.Textarea(
            description="Recipe as written",
            placeholder="Paste a recipe, an ingredient on each line",
            rows=6,
        )
        self.name = field("Name of the formula", "such as house loaf")
        self.keep = tall_button("Keep this recipe")
        self.told, self.expected = widgets.HTML(), widgets.HTML()
        self._below = widgets.VBox([self.recipe, beside(self.name, self.keep)])
        self.view = widgets.VBox([
            self.variant, self.expected, self.pan,
            beside(self.batch, self.baker, least_px=130),
            self.start, self.told, self.other, self._below,
        ])  # fmt: skip
        self._listen()
        self.refresh()

    def refresh(self, *, key: str = "") -> None:
        """Offer the formulas that are kept, the newest first."""
        kept = self._book.formulas()
        chosen = key or self.variant.value or self._last_baked()
        if kept.empty:
            self.variant.options = [(_NONE, "")]
        else:
            kept = kept.sort_values("kept_at", ascending=False, kind="stable")
            rows = _in_order(kept.to_dict("records"), self._book.plans())
            self.variant.options = [(_words(row), row["key"]) for row in rows]
            if chosen in set(kept["key"]):
                self.variant.value = chosen
        self.start.disabled = kept.empty
        self._tell_expected()
        show(self._below, self.other.value or kept.empty)

    def _tell_expected(self) -> None:
        key = self.variant.value
        try:
            found = expected_bake(self._book.formula(key)) if key else None
        except BakelabError as error:  # one damaged formula stops no bench
            set_html(self.expected, alert([str(error)]))
        else:
            set_html(self.expected, note(found.text) if found else "")

    def _last_baked(self) -> str:
        last = self._book.bakes(newest=1)
        return "" if last.empty else str(last["formula_key"].iloc[0])

    def _listen(self) -> None:
        self.variant.observe(lambda _: self._tell_expected(), "value")
        self.start.on_click(lambda _: self._start())
        self.keep.on_click(lambda _: self._keep())
        self.other.observe(lambda _: self.refresh(), "value")

    def _start(self) -> None:
        try:
            key = self.variant.value
            if not key:
                raise BookError("there is no formula to start; keep a recipe first")
            typed = self._typed()
            facts, words = planned_facts(self._book, key, pan=str(typed.get("pan", "")))
            facts |= typed
            pan = facts.pop("pan", None)
            bake_id = self._book.start(key, pan=pan, **facts)
        except BakelabError as error:
            set_html(self.told, alert([f"Not started: {error}"]))
            return
        for control in (self.pan, self.batch):
            control.value = ""
        set_html(self.told, note(words))
        self._started(bake_id)

    def _typed(self) -> dict[str, Any]:
        from bakelab.bakebook.facts import FACTS_BY_NAME

        controls = {"pan": self.pan, "batch_factor": self.batch, "baker": self.baker}
        values = {
            name: as_value(FACTS_BY_NAME[name], control.value)
            for name, control in controls.items()
        }
        return {name: value for name, value in values.items() if value is not None}

    def _keep(self) -> None:
        try:
            formula = _read(self.recipe.value)
            key = self._book.keep(formula, name=self.name.value.strip())
        except BakelabError as error:
            set_html(self.told, alert([f"Not kept: {error}"]))
            return
        self.other.value = False
        self.recipe.value = self.name.value = ""
        self.refresh(key=key)
        set_html(self.told, note(f"Kept: {formula.title or 'the recipe'}."))


def planned_facts(
    book: "BakeBook", key: str, *, pan: str = ""
) -> tuple[dict[str, Any], str]:
    """What is planned for a bake of a formula, and where that comes from.

    From the last bake of the same formula; where there is none, what the
    recipe itself says of its pan, oven and time, or the time that was estimated
    for its pan. A formula of a plan of trials brings the plan's name and the trial
    that is to be baked next. An estimate counts for no other `pan` than its own.
    """
    trial = _trial_of(book, key)
    facts, words = _as_before(book, key, pan)
    if trial:
        words = f"{words} Trial {trial['trial']} of the plan {trial['plan']}.".strip()
    return {**facts, **trial}, words


def _trial_of(book: "BakeBook", key: str) -> dict[str, str]:
    """The newest plan that has the formula, and its first trial not baked yet."""
    for row in book.plans().to_dict("records"):
        table = row["trials"]
        mine = [str(t) for t in table.loc[table["formula_key"] == key, "trial"]]
        if mine:
            baked = book.bakes(formula=key)
            done = set(baked.loc[baked["plan"] == row["name"], "trial"].astype(str))
            left = [trial for trial in mine if trial not in done]
            return {"plan": str(row["name"]), "trial": (left or mine)[0]}
    return {}


def _as_before(book: "BakeBook", key: str, pan: str) -> tuple[dict[str, Any], str]:
    before = book.bakes(formula=key)
    if not before.empty:
        last = book.bake(str(before.sort_values("started_at")["id"].iloc[-1]))
        facts = {n: last.facts[n] for n in _TAKEN_OVER if last.facts.get(n) is not None}
        day = day_text(last.started_at)
        words = f"Pan, oven and plan as in the bake of {day}; correct them below."
        return facts, words if facts else ""
    formula = book.formula(key)
    facts, found = _from_recipe(formula), expected_bake(formula)
    if found is not None:
        return _expected(facts, found, pan)
    words = "Pan, oven and time as the recipe says; correct them below."
    return facts, words if facts else ""


def _expected(
    facts: dict[str, Any], found: ExpectedBake, pan: str
) -> tuple[dict[str, Any], str]:
    """With the estimated time as the plan, unless it is for another pan."""
    words = "Pan and oven as the formula says; correct them below."
    if pan and not _same_pan(pan, found.pan):
        rest = {n: v for n, v in facts.items() if n != "planned_bake_min"}
        return rest, f"{words} No time is planned: the estimate is for {found.pan}."
    return {**facts, "planned_bake_min": found.middle_min}, f"{words} {found.text}"


def _same_pan(one: str, other: str) -> bool:
    with suppress(BakelabError):
        return read_pan(one).text_spec == read_pan(other).text_spec
    return False


def _from_recipe(formula: Formula) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if formula.stated_pan:
        found["pan"] = formula.stated_pan
    if formula.bake_minutes:
        found["planned_bake_min"] = sum(formula.bake_minutes) / 2
    if formula.oven:
        with suppress(BakelabError):
            found["planned_oven_c"] = round(oven(formula.oven).air_c)
    return found


def _read(text: str) -> Formula:
    if not text.strip():
        raise BookError(
            "the recipe is empty; paste one with an ingredient on each line"
        )
    return formula_in(text)


def _in_order(rows: list[dict[Any, Any]], plans: Any) -> list[dict[Any, Any]]:
    """The same rows, with the trials of a plan together and in their order."""
    place: dict[str, tuple[int, int]] = {}
    for plan_no, plan in enumerate(plans.to_dict("records")):
        for number, key in enumerate(plan["trials"]["formula_key"], 1):
            place.setdefault(str(key), (plan_no, number))
    first: dict[int, int] = {}
    order = []
    for position, row in enumerate(rows):
        plan_no, trial = place.get(row["key"], (-1 - position, 0))
        order.append((first.setdefault(plan_no, position), trial, position))
        row["trial"] = trial
    return [rows[position] for _, _, position in sorted(order)]


def _words(row: dict[Any, Any]) -> str:
    name, title = str(row.get("name") or ""), str(row.get("title") or "Bread")
    head = f"{name} ({title})" if name and name != title else title
    count = int(row.get("bakes") or 0)
    baked = f", baked {count} ×" if count else ", not baked yet"
    trial = f"Trial {row['trial']}: " if row.get("trial") else ""
    return f"{trial}{head}{baked}"
