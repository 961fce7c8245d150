"""The panel of the main job: a recipe as written, fitted to my pan."""

import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from bakelab.errors import BakelabError, ReadError
from bakelab.ingredients.table import all_ingredients
from bakelab.kitchen import forget_my_weight, my_weights, set_my_weight
from bakelab.panels import answer_html as html
from bakelab.panels.controls import Controls, beside, heading, show
from bakelab.panels.correcting import corrected, line_as_row, market_of
from bakelab.panels.cups import Measure, cup_sentences, household_lines, measures_in
from bakelab.panels.parts import Fold, LinesTable
from bakelab.panels.saving import saved_formula, saved_sheet
from bakelab.panels.style import SCOPE, panel_style
from bakelab.panels.wish import Answer, Troubles, answer_of
from bakelab.reading import STATES, Line, Recipe, read_recipe, recipe_from_lines
from bakelab.reading.sources import source_text
from bakelab.units import number

__all__ = ["FitPanel"]

_JOB = (
    "Paste a recipe and name your pan: this fits the recipe to the pan, gives weights "
    "for your scale, and says what was assumed."
)
LineKey = tuple[str, str, str, int]
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
        self._corrections: dict[LineKey, Line] = {}
        self._read_as: tuple[object, ...] = ()
        self._as_read: Recipe | None = None
        self._make_outputs()
        self.view = self._laid_out()
        self._start(recipe, pan)
        self._listen()
        self._refresh()

    def correct(self, row: int, field: str, value: str) -> None:
        """Correct one line: its `text`, `ingredient`, `grams` or `state`."""
        if self.recipe is None or not 0 <= row < len(self.recipe.lines):
            return
        line, market = self.recipe.lines[row], self._market()
        language = self.recipe.language
        try:
            new = corrected(line, field, value, language=language, market=market)
        except BakelabError as error:
            self.lines.send({"redraw": True})
            self._refresh(said=[f"Line {row + 1}: {error}"])
            return
        self._corrections[_line_keys(self._as_read)[row]] = new
        self._refresh()

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)

    def _make_outputs(self) -> None:
        names = ("alert", "headline", "table", "drawing", "remarks", "read_note",
                 "from_note", "to_note", "cups", "saved", "kitchen_note")  # fmt: skip
        self.outputs = {name: widgets.HTML() for name in names}
        self.likely = Fold("Other pans the recipe may have been meant for")
        self.working = Fold("The working, step by step")
        self.assumed = Fold("What was assumed")

    def _laid_out(self) -> Any:
        columns = widgets.HBox([self._left(), self._right()])
        columns.add_class("bakelab-columns")
        head = f'<p class="bakelab-job">{_JOB}</p>{panel_style()}'
        view = widgets.VBox([widgets.HTML(head), columns])
        view.add_class(SCOPE)
        return view

    def _left(self) -> Any:
        c, out = self.controls, self.outputs
        self._own = beside(c.measure, c.own_g, c.keep, c.forget)
        left = widgets.VBox(
            [
                heading("1  The recipe"),
                beside(c.sample, c.upload),
                c.text,
                heading("2  Lines as they were read"),
                out["read_note"],
                self.lines,
                c.market,
                out["cups"],
                self._own,
                out["kitchen_note"],
                heading("3  The pans"),
                beside(c.from_pan, c.from_usual),
                out["from_note"],
                beside(c.to_pan, c.to_usual),
                out["to_note"],
                beside(c.water_g, c.water_c),
                heading("4  How to fit, and my scale"),
                beside(c.aim, c.amount, c.pieces, c.loss),
                beside(c.by, c.dome),
                beside(c.style, c.scale),
                c.sticking,
            ]
        )
        left.add_class("bakelab-controls")
        return left

    def _right(self) -> Any:
        c, out = self.controls, self.outputs
        for button in (c.print_sheet, c.save):
            button.button_style = "primary"
        right = widgets.VBox(
            [
                out["alert"],
                out["headline"],
                out["table"],
                beside(c.paper, c.print_sheet, c.save_as, c.save, least_px=110),
                out["saved"],
                out["drawing"],
                out["remarks"],
                self.likely,
                self.assumed,
                self.working,
            ]
        )
        right.add_class("bakelab-answer")
        return right

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
        c.keep.on_click(lambda _: self._keep())
        c.forget.on_click(lambda _: self._forget())
        c.print_sheet.on_click(lambda _: self._leave("sheet"))
        c.save.on_click(lambda _: self._leave("formula"))

    def _asked(self, _change: Any) -> None:
        self._refresh()

    def _choose_sample(self, change: Mapping[str, Any]) -> None:
        if change["new"]:
            self._corrections.clear()
            self.controls.from_pan.value = ""
            self.controls.text.value = change["new"]

    def _choose_pan(self, change: Mapping[str, Any], into: Any) -> None:
        if change["new"]:
            into.value = change["new"]
            change["owner"].value = ""

    def _open_file(self, change: Mapping[str, Any]) -> None:
        for item in change["new"]:
            try:
                text = _file_text(item["name"], bytes(item["content"]))
            except BakelabError as error:
                self._refresh(said=[f"Recipe file: {error}"])
                continue
            self._corrections.clear()
            self.controls.sample.value = ""
            self.controls.from_pan.value = ""
            self.controls.text.value = text

    def _refresh(self, *, said: list[str] | None = None) -> None:
        """Read, fit, weigh and show; the only way an answer changes."""
        troubles = Troubles(said or [])
        self.recipe = troubles.ask("Recipe", self._read)
        self.answer = None
        if self.recipe is not None:
            self.answer = answer_of(self.recipe, self.controls, troubles)
        self._show_reading()
        self._show_answer(troubles)

    def _read(self) -> Recipe:
        c = self.controls
        asked = (c.text.value, c.market.value, tuple(my_weights().items()))
        if self._as_read is None or asked != self._read_as:
            before, self._as_read = self._as_read, None
            text = c.text.value
            if "\n" not in text and text.strip():
                text = f"{text}\n"  # one line is never a file name here
            self._as_read = read_recipe(text, market=c.market.value or None)
            self._read_as = asked
            if before is not None and _is_another(before, self._as_read):
                self._corrections.clear()
        keys = _line_keys(self._as_read)
        lines = [
            self._corrections.get(key, line)
            for key, line in zip(keys, self._as_read.lines, strict=True)
        ]
        if lines == list(self._as_read.lines):
            return self._as_read
        return recipe_from_lines(self._as_read, lines)

    def _market(self) -> str:
        chosen = self.controls.market.value
        return chosen or (market_of(self.recipe) if self.recipe else "us")

    def _show_reading(self) -> None:
        recipe, out = self.recipe, self.outputs
        self.lines.rows = (
            [dict(line_as_row(ln)) for ln in recipe.lines] if recipe else []
        )
        _set(out["read_note"], html.note(_counted(recipe) if recipe else ""))
        measures = measures_in(recipe) if recipe else ()
        show(self._own, bool(measures))
        show(self.controls.market, bool(recipe and household_lines(recipe)))
        options: list[tuple[str, Any]] = [(one.label, one) for one in measures]
        options = options or [("-", "")]
        if list(self.controls.measure.options) != options:
            self.controls.measure.options = options
        sentences = cup_sentences(recipe) if recipe else ()
        _set(out["cups"], "".join(html.note(s) for s in sentences))

    def _show_answer(self, troubles: Troubles) -> None:
        self._show_wanted()
        answer, out = self.answer, self.outputs
        _set(out["saved"], "")
        _set(out["alert"], html.alert(troubles))
        _set(out["from_note"], html.note(answer.from_note if answer else ""))
        if answer is None:
            for name in ("headline", "table", "drawing", "remarks", "to_note"):
                _set(out[name], "")
            for fold in (self.likely, self.assumed, self.working):
                fold.html = ""
            return
        fitted, weighed = answer.fitted, answer.weighed
        _set(out["headline"], html.headline(answer))
        _set(out["table"], html.table(weighed, fitted.factor))
        _set(out["drawing"], html.drawing(fitted))
        _set(out["to_note"], html.note("; ".join(p.describe() for p in fitted.to_pans)))
        _set(out["remarks"], html.listed(self._remarks(answer)))
        self.likely.html = html.listed(answer.likely, "ol")
        self.working.html = html.listed(fitted.working, "ol")
        pans = (fitted.from_pan, *fitted.to_pans)
        words = html.assumption_words(fitted.formula.assumptions, pans)
        self.assumed.html = html.listed(words)
        self.assumed.title = f"What was assumed ({len(words)})"

    def _remarks(self, answer: Answer) -> list[str]:
        beside_rows = [r.text for r in answer.weighed.remedies if r.text]
        weighing = [
            t for t in answer.weighed.remarks if not any(r in t for r in beside_rows)
        ]
        pans = (answer.fitted.from_pan, *answer.fitted.to_pans)
        assumed = [words for p in pans if p for words in p.assumed]
        fitting = [
            t for t in answer.fitted.remarks if not any(words in t for words in assumed)
        ]
        return [*(self.recipe.remarks if self.recipe else ()), *fitting, *weighing]

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
                _set(self.outputs["kitchen_note"], html.note(words))
                self.controls.own_g.value = ""
                self._refresh()

    def _forget(self) -> None:
        one = self.controls.measure.value
        if isinstance(one, Measure):
            with self._kitchen_told():
                had = forget_my_weight(one.key, one.measure)
                words = "is as in the table again" if had else "had no weight of yours"
                _set(self.outputs["kitchen_note"], html.note(f"{one.label} {words}."))
                self._refresh()

    def _kitchen_told(self) -> "_Told":
        return _Told(self.outputs["kitchen_note"], "My kitchen")

    def _leave(self, what: str) -> None:
        saved, c = self.outputs["saved"], self.controls
        if self.answer is None:
            sentence = (
                "There is nothing to put on paper yet; see what is missing above."
            )
            _set(saved, html.alert([sentence]))
            return
        with _Told(saved, "File"):
            if what == "sheet":
                _set(saved, saved_sheet(self.answer, paper=c.paper.value))
            else:
                _set(saved, saved_formula(self.answer, format_=c.save_as.value))


class _Told:
    """Shows a refusal in place instead of raising it."""

    def __init__(self, output: Any, label: str) -> None:
        self._output, self._label = output, label

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, error: BaseException | None, _: object) -> bool:
        if isinstance(error, BakelabError):
            _set(self._output, html.alert([f"{self._label}: {error}"]))
            return True
        return False


def _is_another(before: Recipe, after: Recipe) -> bool:
    """Whether fewer than half of the lines are still there: another recipe."""
    old, new = ({line.text for line in one.lines} for one in (before, after))
    return 2 * len(old & new) < len(old)


def _line_keys(recipe: Recipe | None) -> list[LineKey]:
    """What a line is known by while the recipe around it is edited."""
    keys: list[LineKey] = []
    for line in recipe.lines if recipe else ():
        first = (recipe.title if recipe else "", line.stage, line.text)
        keys.append((*first, sum(key[:3] == first for key in keys)))
    return keys


def _set(output: Any, value: str) -> None:
    if output.value != value:
        output.value = value


def _grams(text: str) -> float | str:
    with suppress(BakelabError):
        return float(number(text))
    return text


def _counted(recipe: Recipe) -> str:
    counts = [(len(recipe.by_state(state)), state) for state in STATES]
    words = ", ".join(f"{count} {state}" for count, state in counts if count)
    return (
        f"{len(recipe.lines)} lines: {words or 'none'}. Correct any of them in place."
    )


def _file_text(name: str, content: bytes) -> str:
    """The text of a file that came from the browser, by the reader's own rules."""
    suffix = Path(name).suffix
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"recipe{suffix if suffix.isascii() else ''}"
        try:
            path.write_bytes(content)
        except (OSError, ValueError):
            raise ReadError(
                f"{name[:60]!r} cannot be opened; give it a plain name"
            ) from None
        return source_text(path)[0]
