"""The tasting panel: from plan to verdict, kept in the book, nonsense refused."""

import base64
import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from bakelab.bakebook import BakeBook
from bakelab.charts import (
    few_chart,
    guess_chart,
    likeness_chart,
    power_chart,
    rank_chart,
)
from bakelab.formula import Formula, formula_from_json
from bakelab.panels import TastePanel
from bakelab.tasting import (
    TESTS,
    evaluate_likeness,
    likeness_tasters,
    needed_correct,
    rank_samples,
    tasters_needed,
)

BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("milk_whole", 40)],
    stated_pan="loaf 9 x 5 x 2.75 in",
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[BakeBook]:
    with BakeBook(tmp_path / "book.sqlite") as opened:
        opened.keep(BREAD, name="quay loaf")
        opened.keep(BREAD.scaled(2), name="quay loaf")
        yield opened


def _plan(panel: TastePanel, test: str, tasters: str = "6") -> None:
    c = panel.controls
    c.test.value = test
    if test == "ranking":
        c.samples.value = "white\nrye\nspelt"
    if test == "paired":
        c.expected.value = "less salt"
        c.question.value = "Which is blander?"
    c.tasters.value = tasters


def _right(panel: TastePanel, number: int) -> str:
    """What a taster writes who tastes the difference."""
    assert panel.kept is not None
    plan = panel.kept.tasting
    codes = plan.slip(number).codes
    names = [plan.key[code] for code in codes]
    if plan.test == "ranking":
        return " > ".join(sorted(codes, key=lambda c: plan.samples.index(plan.key[c])))
    if plan.test == "triangle":
        return next(c for c in codes if names.count(plan.key[c]) == 1)
    if plan.test == "duo-trio":
        return next(c for c in codes[1:] if plan.key[c] == names[0])
    return next(c for c in codes if plan.key[c] == "less salt")


def _told(panel: TastePanel) -> str:
    return str(panel.outputs["alert"].value + panel.outputs["told"].value)


@pytest.mark.parametrize("test", list(TESTS))
def test_from_plan_to_verdict(test: str) -> None:
    panel = TastePanel(False)
    _plan(panel, test)
    assert _told(panel) == ""
    panel.controls.serve.click()
    for number in range(1, 7):
        assert panel.controls.slip.value == number
        assert panel.verdict is None
        panel.controls.answer.value = _right(panel, number)
        panel.controls.enter.click()
        assert _told(panel) == ""
    assert panel.verdict is not None
    assert panel.verdict.numbers
    said = panel.outputs["verdict"].value
    assert "What this does not say" in said
    assert "<svg" in panel.outputs["chart"].value
    assert "6 of 6" in panel.outputs["state"].value


def test_plan_says_how_many_tasters_the_risks_need() -> None:
    panel = TastePanel(False)
    needed = tasters_needed("triangle", share=0.5, alpha=0.05, beta=0.2)
    state = panel.outputs["state"]
    assert f'smaller">{needed}</span>' in state.value
    right = needed_correct("triangle", needed)
    assert f"{right} of {needed}" in state.value
    panel.controls.share.value = "30"
    more = tasters_needed("triangle", share=0.3, alpha=0.05, beta=0.2)
    assert f'smaller">{more}</span>' in state.value
    panel.controls.tasters.value = "9"
    assert f"fewer than the {more}" in state.value
    assert "<svg" in panel.outputs["chart"].value


def test_the_plan_stands_still_once_the_codes_are_drawn() -> None:
    panel = TastePanel(False)
    panel.controls.serve.click()
    assert panel.kept is not None
    before = panel.kept.tasting
    panel.controls.tasters.value = "30"
    panel.controls.samples.value = "a\nb"
    assert panel.kept.tasting is before
    assert panel.controls.samples.layout.display is None
    panel.controls.another.click()
    assert panel.kept is None
    assert 'smaller">30</span>' in panel.outputs["state"].value


def test_slips_and_key_are_files_apart() -> None:
    panel = TastePanel(False, formulas={"house": BREAD, "other": BREAD})
    panel.controls.serve.click()
    panel.controls.slips.click()
    slips = _text(panel.outputs["saved"].value, "tasting-slips.pdf")
    assert "house" not in slips
    assert "gluten, milk, wheat" in slips
    panel.controls.key.click()
    key = _text(panel.outputs["saved"].value, "tasting-key.pdf")
    assert "house" in key
    panel.controls.as_file.value = "html"
    panel.controls.slips.click()
    assert "tasting-slips.html" in panel.outputs["saved"].value


def _text(link: str, name: str) -> str:
    assert f'download="{name}"' in link
    found = re.search(r"base64,([^\"]+)", link)
    assert found is not None
    pages = PdfReader(io.BytesIO(base64.b64decode(found[1]))).pages
    return " ".join(" ".join(p.extract_text() for p in pages).split())


def test_a_slip_of_the_pen_is_a_sentence_and_is_not_taken() -> None:
    panel = TastePanel(False)
    _plan(panel, "triangle")
    panel.controls.serve.click()
    panel.controls.answer.value = "12"
    panel.controls.enter.click()
    assert "ode 12 is not on slip 1: its codes are" in _told(panel)
    assert panel.kept is not None
    assert not panel.kept.answers
    assert panel.controls.answer.value == "12"
    panel.controls.answer.value = "<script>x</script>"
    panel.controls.enter.click()
    assert "<script>" not in _told(panel)


def test_a_press_that_comes_after_the_tasting_was_left_is_refused() -> None:
    panel = TastePanel(False)
    _plan(panel, "paired two-sided", "4")
    c = panel.controls
    c.serve.click()
    c.many.value = f"1: {_right(panel, 1)}"
    c.enter_many.click()
    served = panel.kept
    assert served is not None
    panel.plan_another()
    for late in (c.close, c.enter, c.take_back, c.enter_many):
        late.click()
        assert "No tasting is served yet" in panel.outputs["alert"].value
    assert not served.closed
    assert list(served.answers) == [1]
    c.serve.click()
    assert panel.outputs["alert"].value == ""


def test_answers_can_be_corrected_and_taken_back() -> None:
    panel = TastePanel(False)
    _plan(panel, "paired two-sided", "4")
    c = panel.controls
    c.serve.click()
    c.many.value = "\n".join(f"{n}: {_right(panel, n)}" for n in range(1, 5))
    c.enter_many.click()
    assert panel.verdict is not None
    assert panel.verdict.numbers[0][1] == "0 of 4"  # for the first sample
    c.slip.value = 2
    assert c.answer.value == _right(panel, 2)
    assert panel.kept is not None
    other = next(
        code for code in panel.kept.tasting.slip(2).codes if code != c.answer.value
    )
    c.answer.value, c.remark.value = other, "doughy <b>"
    c.enter.click()
    assert panel.verdict.numbers[0][1] == "1 of 4"
    assert "doughy &lt;b&gt;" in panel.answered.html
    c.slip.value = 2
    c.take_back.click()
    assert panel.verdict is None
    assert "waits for every slip" in panel.outputs["verdict"].value
    c.close.click()
    assert panel.verdict is not None
    assert "1 of 4 slips have no answer" in panel.outputs["verdict"].value


def test_everything_is_kept_in_the_book(book: BakeBook) -> None:
    panel = TastePanel(book)
    assert [n for n, _ in panel.controls.add.options][1:] == [
        "quay loaf", "quay loaf (2)"
    ]  # fmt: skip
    for _, key in panel.controls.add.options[1:]:
        panel.controls.add.value = key
    _plan(panel, "triangle", "3")
    assert panel.controls.samples.value == "quay loaf\nquay loaf (2)"
    panel.controls.serve.click()
    for number in (1, 2):
        panel.controls.answer.value = _right(panel, number)
        panel.controls.remark.value = f"remark {number}"
        panel.controls.enter.click()
    row = book.tastings().iloc[0]
    assert row["kind"] == "triangle"
    assert row["answers"]["2"]["remark"] == "remark 2"
    assert row["plan"]["formulas"] == dict(panel.controls.add.options[1:])
    assert not set(row["plan"]) & {"key"}
    assert row["verdict"] == {}

    later = TastePanel(book)
    later.controls.kept.value = row["id"]
    assert later.kept is not None
    assert "2 of 3" in later.outputs["state"].value
    assert later.controls.slip.value == 3
    later.controls.answer.value = _right(later, 3)
    later.controls.enter.click()
    kept = book.tastings().iloc[0]["verdict"]
    assert kept["numbers"]["Right answers"] == "3 of 3"

    panel.controls.answer.value = panel.kept.tasting.slip(3).codes[0]  # type: ignore[union-attr]
    panel.controls.enter.click()
    assert "entered somewhere else meanwhile" in _told(panel)
    assert book.tastings().iloc[0]["answers"] == {
        str(n): a.to_data() for n, a in later.kept.answers.items()
    }


def test_opening_a_judged_tasting_writes_nothing(book: BakeBook) -> None:
    panel = TastePanel(book)
    _plan(panel, "triangle", "2")
    panel.controls.serve.click()
    panel.controls.many.value = f"1: {_right(panel, 1)}\n2: {_right(panel, 2)}"
    panel.controls.enter_many.click()
    before = book.tastings().iloc[0]
    again = TastePanel(book)
    again.controls.kept.value = before["id"]
    assert again.verdict == panel.verdict
    assert book.tastings().iloc[0]["version"] == before["version"]
    panel.controls.slip.value = 1
    panel.controls.take_back.click()
    assert book.tastings().iloc[0]["verdict"] == {}


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("samples", "", "compares 2"),
        ("samples", "a\nb\nc", "compares 2"),
        ("samples", "a\na", "wo samples are called"),
        ("samples", "a\n" + "x" * 99, "use up to 60"),
        ("title", "x" * 99, "use up to 60"),
        ("question", "q" * 201, "use up to 200"),
        ("question", "more of less salt?", "names the sample"),
        ("allergens", "x" * 400, "use up to 300"),
        ("alpha", "", "is a number above 0"),
        ("alpha", "0", "0.01 to 50 %"),
        ("alpha", "five", "is a number above 0"),
        ("alpha", "1e9", "is a number above 0"),
        ("beta", "-3", "is a number above 0"),
        ("beta", "99", "0.1 to 90 %"),
        ("share", "2", "5 to 100 %"),
        ("share", "<b>", "is a number above 0"),
        ("tasters", "-1", "whole number such as 12"),
        ("tasters", "0.5", "whole number such as 12"),
        ("tasters", "9999", "three-digit codes serve 1 to 300"),
        ("tasters", "٣", "whole number such as 12"),
    ],
)
def test_nonsense_is_one_sentence_and_the_last_plan_stays(
    name: str, text: str, said: str
) -> None:
    panel = TastePanel(False)
    before = panel.outputs["state"].value
    getattr(panel.controls, name).value = text
    assert said in _told(panel)
    assert 'role="alert"' in _told(panel)
    assert "<b>" not in _told(panel)
    assert panel.outputs["state"].value == before
    panel.controls.serve.click()
    assert panel.kept is None


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("gap", "9", "ot a gap of 9"),
        ("gap", "", "is a number above 0"),
        ("expected", "white, blue", "name each of white, rye, spelt"),
        ("samples", "a\nb", "3 to 8"),
    ],
)
def test_nonsense_in_a_ranking(name: str, text: str, said: str) -> None:
    panel = TastePanel(False)
    _plan(panel, "ranking")
    getattr(panel.controls, name).value = text
    assert said in _told(panel)


def test_likeness_is_planned_and_judged() -> None:
    panel = TastePanel(False)
    c = panel.controls
    c.aim.value = "likeness"
    assert (c.alpha.value, c.beta.value, c.share.value) == ("20", "5", "30")
    assert c.beta.description == "Risk of showing it wrongly (%)"
    needed = likeness_tasters("triangle", share=0.3, alpha=0.2, beta=0.05)
    assert f'smaller">{needed}</span>' in panel.outputs["state"].value
    assert "<svg" in panel.outputs["chart"].value
    c.tasters.value = "12"
    assert f"fewer than the {needed}" in panel.outputs["state"].value
    c.serve.click()
    c.many.value = "\n".join(f"{n}: {_right(panel, n)}" for n in range(1, 13))
    c.enter_many.click()
    assert "Not shown to be alike" in panel.outputs["verdict"].value
    assert "A difference is shown instead" in panel.outputs["verdict"].value
    c.another.click()
    c.aim.value = "difference"
    assert c.beta.value == "20"
    c.aim.value = "likeness"
    c.test.value = "ranking"
    c.samples.value = "a\nb\nc"
    assert _told(panel) == ""


def test_names_may_hold_commas() -> None:
    panel = TastePanel(False)
    _plan(panel, "ranking")
    panel.controls.samples.value = "whole wheat\nwhole wheat, wetter\nrye"
    panel.controls.expected.value = "rye, whole wheat, wetter, whole wheat"
    assert _told(panel) == ""
    panel.controls.serve.click()
    assert panel.kept is not None
    expected = panel.kept.tasting.expected
    assert expected == ("rye", "whole wheat, wetter", "whole wheat")
    lines = [f"{n}: {_right(panel, n)}" for n in range(1, 7)]
    panel.controls.many.value = "\n".join(lines)
    panel.controls.enter_many.click()
    assert "“whole wheat, wetter”" in panel.outputs["verdict"].value


def test_enter_in_the_answer_is_the_button() -> None:
    panel = TastePanel(False)
    _plan(panel, "triangle")
    panel.controls.serve.click()
    panel.controls.answer.value = _right(panel, 1)
    panel.answering.hear(None, {"event": "submit"}, None)
    assert panel.kept is not None
    assert list(panel.kept.answers) == [1]


def test_every_control_has_a_label() -> None:
    c = TastePanel(False).controls
    assert all(str(getattr(v, "description", "x")).strip() for v in vars(c).values())


def test_charts_name_their_axes() -> None:
    drawn = power_chart("triangle", 12, alpha=0.05, share=0.5).to_dict()
    titles = {axis: layer["encoding"][axis]["title"] for layer in drawn["layer"][:1]
              for axis in ("x", "y")}  # fmt: skip
    assert titles == {
        "x": "People who taste the difference (%)",
        "y": "Chance that it is shown (%)",
    }
    guesses = guess_chart("triangle", 12, alpha=0.05, correct=8).to_dict()
    (rows, *_) = guesses["datasets"].values()
    shows = {r["right"] for r in rows if r["meaning"] == "shows a difference"}
    assert shows == set(range(8, 13))
    both = guess_chart("paired two-sided", 12, alpha=0.05).to_dict()
    (rows, *_) = both["datasets"].values()
    shows = {r["right"] for r in rows if r["meaning"] == "shows a difference"}
    assert shows == {0, 1, 2, 10, 11, 12}
    many = guess_chart("triangle", 200, alpha=0.05, correct=150).to_dict()
    marked = [r["right"] for rows in many["datasets"].values() for r in rows]
    assert 150 in marked
    assert 30 not in marked
    alike = evaluate_likeness("triangle", tasters=60, correct=20, share=0.3)
    few = few_chart(alike).to_dict()
    (rows, *_) = few["datasets"].values()
    shows = [r["right"] for r in rows if r["meaning"] == "shows likeness"]
    assert max(shows) == alike.most
    falls = likeness_chart("triangle", 60, share=0.3, beta=0.05).to_dict()
    (rows, *_) = falls["datasets"].values()
    assert rows[0]["found_pct"] > 80
    assert rows[-1]["found_pct"] < 0.01
    found = rank_samples([(1, 2, 3)] * 6)
    ranks = rank_chart(found, ["a", "b", "c"]).to_dict()
    assert ranks["title"]["text"] == "Rank sums"
    for layer in ranks["layer"][:2]:
        axis = layer["encoding"]["x"]["axis"]
        assert (axis["labelOverlap"], axis["labelSeparation"]) == (True, 10)
    (rows, *_) = ranks["datasets"].values()
    assert [r["high"] - r["low"] for r in rows] == pytest.approx(
        [found.least_difference] * 3
    )


def _judged(panel: TastePanel, names: tuple[str, ...] = ()) -> None:
    """Samples of the book by their names, or those that stand there, all answered."""
    options = dict(panel.controls.add.options)
    for name in names:
        panel.controls.add.value = options[name]
    _plan(panel, "triangle")
    panel.controls.serve.click()
    assert panel.kept is not None
    for number in range(1, len(panel.kept.tasting.slips) + 1):
        panel.controls.answer.value = _right(panel, number)
        panel.controls.enter.click()


def test_the_winner_is_kept_printed_and_saved(book: BakeBook) -> None:
    panel = TastePanel(book)
    assert panel._parts["decide"].layout.display == "none"
    _judged(panel, ("quay loaf", "quay loaf (2)"))
    c, told = panel.controls, panel.outputs["decided"]
    assert panel._parts["decide"].layout.display is None
    assert "not which one is better" in panel.outputs["yours"].value
    c.print_sheet.click()
    assert "No loaf is chosen yet" in told.value
    c.chosen.value, c.why.value = "quay loaf (2)", "<b>asked</b> for more"
    c.name.value = "Tuesday loaf"
    c.decide.click()
    assert "as “Tuesday loaf”" in told.value
    names = set(book.formulas()["name"])
    assert names == {"quay loaf", "Tuesday loaf"}
    assert "Tuesday loaf" in dict(c.add.options)
    c.print_sheet.click()
    formula = book.formula(dict(c.add.options)["Tuesday loaf"])
    flour = f"{formula.rows[0].mass_g:,.0f}"
    words = _text(told.value, "tuesday-loaf-sheet.pdf")
    assert flour in words
    assert "Tuesday loaf" in words
    assert "Fitted to loaf 9 × 5 × 2.75 in" in words
    c.save_as.value = "json"
    c.save.click()
    found = re.search(r"base64,([^\"]+)", told.value)
    assert found is not None
    saved = formula_from_json(base64.b64decode(found[1]).decode())
    assert saved == formula
    again = TastePanel(book)
    again.controls.kept.value = again.controls.kept.options[1][1]
    assert again.controls.chosen.value == "quay loaf (2)"
    assert again.controls.why.value == "<b>asked</b> for more"
    verdict = book.tastings()["verdict"].iloc[0]
    assert (verdict["chosen"], verdict["shown"]) == ("quay loaf (2)", True)
    again.controls.save_as.value = "json"
    again.controls.save.click()
    assert "quay-loaf-2.json" in again.outputs["decided"].value


def test_an_answer_taken_back_takes_the_decision_back(book: BakeBook) -> None:
    panel = TastePanel(book)
    _judged(panel, ("quay loaf", "quay loaf (2)"))
    panel.controls.chosen.value = "quay loaf"
    panel.controls.decide.click()
    panel.controls.take_back.click()
    assert panel._parts["decide"].layout.display == "none"
    assert book.tastings()["verdict"].iloc[0] == {}
    panel.controls.close.click()  # judged again: what was decided is not kept
    assert panel._parts["decide"].layout.display is None
    assert "chosen" not in book.tastings()["verdict"].iloc[0]
    assert "Kept beside the verdict" not in _decided(panel)
    assert "no decision stands beside the verdict any more" in _decided(panel)
    panel.controls.decide.click()
    assert book.tastings()["verdict"].iloc[0]["chosen"] == "quay loaf"


def test_a_loaf_known_by_name_only_is_decided_but_not_printed(book: BakeBook) -> None:
    panel = TastePanel(book)
    _judged(panel)
    panel.controls.chosen.value = "less salt"
    panel.controls.decide.click()
    assert "Decided: less salt. Kept beside the verdict" in _decided(panel)
    panel.controls.print_sheet.click()
    assert "formula of less salt is not known here" in _decided(panel)
    alone = TastePanel(False)
    _judged(alone)
    alone.controls.chosen.value = "less salt"
    alone.controls.decide.click()
    assert "no bake book" in _decided(alone)


def _decided(panel: TastePanel) -> str:
    return str(panel.outputs["decided"].value)
