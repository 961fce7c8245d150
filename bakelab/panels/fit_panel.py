"""The panel of the main job: a recipe as written, fitted to my pan."""

from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.ingredients.table import all_ingredients
from bakelab.kitchen import forget_my_weight, set_my_weight
from bakelab.panels import answer_html as html
from bakelab.panels.adding import stage_for_new, stages_of, with_line
from bakelab.panels.controls import Controls, show
from bakelab.panels.correcting import line_as_row, lines_counted
from bakelab.panels.cups import Measure, cup_sentences, household_lines, measures_in
from bakelab.panels.current_recipe import CurrentRecipe, file_text
from bakelab.panels.layout import Layout, Told, set_html
from bakelab.panels.parts import LinesTable
from bakelab.panels.saving import saved_formula, saved_sheet
from bakelab.panels.shelf import BookShelf
from bakelab.panels.wish import Answer, Troubles, answer_of, pan_words
from bakelab.reading import Recipe
from bakelab.reading.saved import recipe_text, saved_formula_in
from bakelab.units import number
from bakelab.variants import Variant

__all__ = ["FitPanel"]

_FIRST_PAN = "13 x 4 x 4 in, lidded"


class FitPanel:
    """A recipe from anywhere to a pan from the cupboard, on one screen.

    Parameters
    ----------
    recipe : str
        Text of a recipe; by default the first sample recipe.
    pan : str
        The pan to fit to, as :func:`bakelab.pans.pan` reads it.

    Attributes
    ----------
    controls : Controls
        Every control by name.
    lines : LinesTable
        Ingredient lines with their states, corrected in place.
    recipe, answer : Recipe or None, Answer or None
        What was read, and the fitted and weighed formula.
    shelf : BookShelf
        Keeps the fitted formula in the bake book, and takes one out.
    layout : Layout
        Outputs and folds by name.
    view : ipywidgets.Widget
        What the notebook shows.

    Examples
    --------
    >>> panel = FitPanel("500 g bread flour\\n340 g water", pan="loaf 9 x 5 x 3 in")
    >>> panel.controls.aim.value, panel.controls.amount.value = "dough", "420 g"
    >>> round(panel.answer.fitted.formula.flour_g)
    250
    """

    def __init__(self, recipe: str = "", *, pan: str = _FIRST_PAN) -> None:
        self.controls = Controls()
        self.lines = LinesTable(sorted(i.name for i in all_ingredients().values()))
        self.recipe: Recipe | None = None
        self.answer: Answer | None = None
        self._current = CurrentRecipe()
        self.shelf = BookShelf(self._kept, self._take)
        rows = {"taking": self.shelf.taking, "keeping": self.shelf.keeping}
        self.layout = Layout(self.controls, self.lines, **rows)
        self.outputs, self.view = self.layout.outputs, self.layout.view
        self._start(recipe, pan)
        self._listen()
        self._refresh()

    def correct(self, row: int, field: str, value: str) -> None:
        """Correct one line: its `text`, `ingredient`, `grams` or `state`."""
        if self.recipe is None or not 0 <= row < len(self.recipe.lines):
            return
        market = self.controls.market.value or None
        try:
            self._current.correct(self.recipe, row, field, value, market)
        except BakelabError as error:
            self.lines.send({"redraw": True})
            self._refresh(said=[f"Line {row + 1}: {error}"])
            return
        self._refresh()

    def add(self, line: str, stage: str = "") -> None:
        """Put a new line at the end of the list in the text, and read it."""
        c, out = self.controls, self.outputs["added"]
        try:
            found = with_line(
                c.text.value, line, stage=stage, market=c.market.value or None
            )
        except BakelabError as error:
            set_html(out, html.alert([f"New line: {error}"]))
            self.lines.answer(taken=False)
            return
        c.text.value = found.text
        set_html(out, html.status(found.words))
        self.lines.answer(taken=True)

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)

    def _start(self, recipe: str, pan: str) -> None:
        c = self.controls
        samples = [text for _, text in c.sample.options if text]
        if not recipe and samples:
            c.sample.value = samples[0]
        c.text.value = recipe or c.sample.value
        c.to_pan.value = pan

    def _listen(self) -> None:
        c = self.controls
        for control in c.asked():
            control.observe(self._asked, "value")
        c.sample.observe(self._choose_sample, "value")
        c.upload.observe(self._open_file, "value")
        c.from_usual.observe(lambda e: self._choose_pan(e, c.from_pan), "value")
        c.to_usual.observe(lambda e: self._choose_pan(e, c.to_pan), "value")
        self.lines.on_correction(self.correct)
        self.lines.on_addition(self.add)
        c.keep.on_click(lambda _: self._keep())
        c.forget.on_click(lambda _: self._forget())
        c.print_sheet.on_click(lambda _: self._leave("sheet"))
        c.save.on_click(lambda _: self._leave("formula"))

    def _asked(self, _change: Any) -> None:
        c = self.controls
        if c.sample.value and c.sample.value != c.text.value:
            c.sample.value = ""
        self._refresh()

    def _choose_sample(self, change: Mapping[str, Any]) -> None:
        if change["new"]:
            self._current.forget_corrections()
            self.controls.text.value = change["new"]
            self.controls.from_pan.value = ""

    def _choose_pan(self, change: Mapping[str, Any], into: Any) -> None:
        if change["new"]:
            into.value = change["new"]
            change["owner"].value = ""

    def _open_file(self, change: Mapping[str, Any]) -> None:
        for item in change["new"]:
            try:
                text = file_text(item["name"], bytes(item["content"]))
            except BakelabError as error:
                self._refresh(said=[f"Recipe file: {error}"])
                continue
            saved = saved_formula_in(text)
            if saved is None:
                self._begin(text)
            else:
                self._take(saved)

    def _take(self, formula: Formula) -> None:
        """Begin with a formula of the lab, in the words of a recipe."""
        self._begin(recipe_text(formula), pan=formula.stated_pan)

    def _begin(self, text: str, *, pan: str = "") -> None:
        self._current.forget_corrections()
        self.controls.sample.value = ""
        self.controls.from_pan.value = pan
        self.controls.text.value = text

    def _kept(self) -> list[Variant]:
        """What is kept in the bake book: the fitted formula, named by its pan."""
        if self.answer is None:
            return []
        fitted = self.answer.fitted
        to = fitted.formula.stated_pan or f"{fitted.formula.dough_g:.0f} g"
        name = f"{fitted.formula.title or 'Bread'}, {to}"
        return [Variant(fitted.formula, name, f"fitted to {to}")]

    def _refresh(self, *, said: list[str] | None = None) -> None:
        """Read, fit, weigh and show; the only way an answer changes."""
        c, troubles = self.controls, Troubles(said or [])
        self.recipe = troubles.ask(
            "Recipe", lambda: self._current.read(c.text.value, c.market.value or None)
        )
        self.answer = None
        if self.recipe is not None:
            self.answer = answer_of(self.recipe, self.controls, troubles)
        self._show_reading()
        self._show_answer(troubles)

    def _show_reading(self) -> None:
        recipe, out = self.recipe, self.outputs
        self.lines.rows = (
            [dict(line_as_row(ln)) for ln in recipe.lines] if recipe else []
        )
        self.lines.stage = stage_for_new(recipe)
        self.lines.stages = list(stages_of(recipe))
        set_html(out["added"], "")
        set_html(out["read_note"], html.note(lines_counted(recipe) if recipe else ""))
        measures = measures_in(recipe) if recipe else ()
        show(self.layout.own, bool(measures))
        show(self.controls.market, bool(recipe and household_lines(recipe)))
        options: list[tuple[str, Any]] = [(one.label, one) for one in measures]
        options = options or [("-", "")]
        if list(self.controls.measure.options) != options:
            self.controls.measure.options = options
        sentences = cup_sentences(recipe) if recipe else ()
        set_html(out["cups"], "".join(html.note(s) for s in sentences))

    def _show_answer(self, troubles: Troubles) -> None:
        self._show_wanted()
        answer, out = self.answer, self.outputs
        set_html(out["saved"], "")
        set_html(out["alert"], html.alert(troubles))
        set_html(out["from_note"], html.note(_said_of("The recipe's pan", troubles)))
        set_html(out["to_note"], html.note(_said_of("My pan", troubles)))
        if answer is None:
            self.layout.empty_answer()
            return
        fitted, weighed = answer.fitted, answer.weighed
        set_html(out["headline"], html.headline(answer))
        set_html(out["table"], html.table(weighed, fitted.factor))
        set_html(out["drawing"], html.drawing(fitted))
        set_html(out["from_note"], html.note(answer.from_note))
        mine = "; ".join(map(pan_words, fitted.to_pans))
        set_html(out["to_note"], html.note(mine))
        set_html(out["remarks"], html.listed(html.remarks(answer, self.recipe)))
        self.layout.likely.html = html.listed(answer.likely, "ol")
        self.layout.working.html = html.listed(fitted.working, "ol")
        pans = (fitted.from_pan, *fitted.to_pans)
        words = html.assumption_words(fitted.formula.assumptions, pans)
        self.layout.assumed.html = html.listed(words)
        self.layout.assumed.title = f"What was assumed ({len(words)})"

    def _show_wanted(self) -> None:
        """Only the controls that the chosen aim needs."""
        c, aim = self.controls, self.controls.aim.value
        show(c.amount, aim != "pan")
        show(c.pieces, aim == "pieces")
        show(c.loss, aim == "baked")
        for control in (c.by, c.dome):
            show(control, aim == "pan")

    def _keep(self) -> None:
        one, text = self.controls.measure.value, self.controls.own_g.value
        if isinstance(one, Measure):
            with self._kitchen_told():
                set_my_weight(one.key, one.measure, _grams(text))
                words = f"Kept for good: {one.label} weighs {text} g in your kitchen."
                set_html(self.outputs["kitchen_note"], html.note(words))
                self.controls.own_g.value = ""
                self._refresh()

    def _forget(self) -> None:
        one = self.controls.measure.value
        if isinstance(one, Measure):
            with self._kitchen_told():
                had = forget_my_weight(one.key, one.measure)
                words = "is as in the table again" if had else "had no weight of yours"
                set_html(
                    self.outputs["kitchen_note"], html.note(f"{one.label} {words}.")
                )
                self._refresh()

    def _kitchen_told(self) -> "Told":
        return Told(self.outputs["kitchen_note"], "My kitchen")

    def _leave(self, what: str) -> None:
        saved, c = self.outputs["saved"], self.controls
        if self.answer is None:
            sentence = (
                "There is nothing to put on paper yet; see what is missing above."
            )
            set_html(saved, html.alert([sentence]))
            return
        with Told(saved, "File"):
            if what == "sheet":
                set_html(saved, saved_sheet(self.answer, paper=c.paper.value))
            else:
                set_html(saved, saved_formula(self.answer, format_=c.save_as.value))


def _said_of(label: str, troubles: Troubles) -> str:
    """The refusal of one control, to stand beside it as well."""
    return next((t for t in troubles if t.startswith(f"{label}:")), "")


def _grams(text: str) -> float | str:
    with suppress(BakelabError):
        return float(number(text))
    return text
