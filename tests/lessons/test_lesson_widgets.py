"""Exercises and playgrounds in the notebook: values set, answers read."""

import json
import re
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import pytest

from bakelab.errors import BakelabError
from bakelab.lessons import Item, Marked, Progress, families, make
from bakelab.lessons.prose import blocks, given_html, given_markdown, html_of
from bakelab.lessons.widgets import (
    FlourPlayground,
    Guess,
    HydrationPlayground,
    ItemBox,
    JudgingPlayground,
    PanPlayground,
    Playground,
    Practice,
    RatioPlayground,
    ScalingPlayground,
)
from bakelab.lessons.widgets.bars import Bar, Part, bars_svg, parts_svg

LEARN = Path(__file__).resolve().parents[2] / "notebooks" / "learn"
PLAYGROUNDS = (
    RatioPlayground,
    FlourPlayground,
    HydrationPlayground,
    PanPlayground,
    ScalingPlayground,
    JudgingPlayground,
)
FAMILIES = [family.key for family in families()]


@pytest.fixture
def box() -> ItemBox:
    return ItemBox(make("weight_to_percent", 3, level=1), on_next=lambda: None)


def _right(item: Item) -> str:
    if isinstance(item.answer, str):
        return item.letter(item.answer)
    return f"{item.answer.numerator}/{item.answer.denominator}"


# One exercise


@pytest.mark.parametrize("key", FAMILIES)
def test_every_family_can_be_shown_and_done(key: str) -> None:
    item = make(key, 11)
    box = ItemBox(item)
    assert box.item["label"].startswith("My answer")
    assert (item.unit in box.item["label"]) or item.is_choice
    assert len(box.item["choices"]) == len(item.choices)
    assert box.check(_right(item)).is_right
    assert box.state["told"].startswith("✓ ")
    assert "<li>" in box.state["solution"]
    assert box.solved


@pytest.mark.parametrize("key", FAMILIES)
def test_pictures_have_words(key: str) -> None:
    picture = make(key, 11).picture
    if picture:
        root = ElementTree.fromstring(picture)
        assert root.attrib["role"] == "img"
        names = {child.tag.rpartition("}")[2] for child in root}
        assert {"title", "desc"} <= names


def test_hints_come_one_by_one_and_are_spoken(box: ItemBox) -> None:
    for number in (1, 2, 3):
        box.hint()
        assert len(box.state["hints"]) == number
        assert box.state["told"].startswith(f"Hint {number}: ")
    assert box.state["hint_button"] == ""
    box.hint()
    assert len(box.state["hints"]) == 3


def test_a_wrong_answer_is_told_in_words_and_keeps_the_solution(box: ItemBox) -> None:
    one = box.exercise.distractors[0]
    assert isinstance(one.value, Fraction)
    box.check(str(float(one.value)))
    assert box.state["kind"] == "wrong"
    assert one.look_at in box.state["told"]
    assert box.state["solution"] == ""
    assert not box.state["next"]


def test_nonsense_is_no_try(box: ItemBox) -> None:
    for text in ("", "  ", "<b>no</b>", "x" * 5000):
        box.check(text)
        assert box.state["kind"] == "unread"
    assert box.tries == 0


def test_what_a_student_types_is_never_markup(box: ItemBox) -> None:
    box.check("<img src=x onerror=alert(1)>")
    assert "onerror" not in json.dumps(box.state["hints"]) + box.state["solution"]
    script = (LEARN.parents[1] / "bakelab/lessons/widgets/item_box.js").read_text()
    assert "told.textContent = state.told" in script


def test_the_solution_can_be_asked_for(box: ItemBox) -> None:
    box.show_solution()
    assert box.exercise.answer_text in box.state["told"]
    assert box.state["next"]
    assert box.state["solve_button"] == ""


@pytest.mark.parametrize(
    "message", [None, "check", 7, {}, {"do": "fly"}, {"do": ["x"]}, {"text": "1"}]
)
def test_odd_messages_from_the_page_do_nothing(box: ItemBox, message: object) -> None:
    before = dict(box.state)
    box._hear(box, message, [])
    assert box.state == before


def test_messages_from_the_page_are_heard(box: ItemBox) -> None:
    box._hear(box, {"do": "hint"}, [])
    box._hear(box, {"do": "check", "text": _right(box.exercise)}, [])
    assert box.solved
    assert box.hints_shown == 1


def test_html_in_a_question_is_shown_letter_by_letter() -> None:
    assert "<script" not in html_of("<script>alert(1)</script> *a*")
    assert blocks("- one\n- **two**")[1]["runs"][0]["bold"]


def test_what_is_given_stands_in_a_table() -> None:
    item = make("weight_to_percent", 3, level=1)
    table = ElementTree.fromstring(given_html(item))
    cells = [c.text for c in table.iter() if c.tag in ("td", "th")]
    for row in item.given:
        for cell in row:
            assert cell in cells
            assert cell in given_markdown(item)


# Practice


def test_practice_keeps_answers_and_goes_on(tmp_path: Path) -> None:
    practice = Practice(2, count=2, progress=tmp_path / "p.jsonl")
    first = practice.box.exercise
    assert practice.box.item["heading"].startswith("Exercise 1 of 2")
    practice.box.check(_right(first))
    practice.go_on()
    assert practice.box.exercise != first
    assert practice.box.item["heading"].startswith("Exercise 2 of 2")
    practice.box.show_solution()
    practice.go_on()
    assert "enough for this lesson" in practice.box.state["told"]
    kept = Progress(tmp_path / "p.jsonl").answers
    assert [a.state for a in kept] == ["right", "wrong"]
    assert practice.box.exercise.family in {f.key for f in families() if f.lesson == 2}


def test_an_exercise_that_was_only_looked_up_does_not_come_again(
    tmp_path: Path,
) -> None:
    practice = Practice(2, progress=tmp_path / "p.jsonl")
    seen = set()
    for _ in range(8):
        seen.add((practice.box.exercise.family, practice.box.exercise.seed))
        practice.box.show_solution()
        practice.go_on()
    assert len(seen) == 8


def test_an_estimate_is_followed_by_computing_it(tmp_path: Path) -> None:
    """Whoever has mastered the rest of lesson 2 is asked for estimates."""
    kept = Progress(tmp_path / "p.jsonl")
    right = Marked("right", "", "Right.", None)
    for family in families():
        for seed in range(100, 108):
            if family.lesson == 2 and family.key != "estimate":
                kept.record(make(family.key, seed, level=3), right)
    practice = Practice(2, progress=kept.path)
    item = practice.box.exercise
    assert item.family == "estimate"
    practice.box.show_solution()
    practice.go_on()
    assert practice.box.exercise.family == item.then
    assert practice.box.exercise.seed == item.seed


def test_forgetting_asks_once(tmp_path: Path) -> None:
    practice = Practice(2, progress=tmp_path / "p.jsonl")
    assert practice.box.state["forget"] == ""
    practice.box.check("1")
    assert practice.box.state["forget"] == "Forget my answers"
    practice.forget()
    assert (tmp_path / "p.jsonl").exists()
    assert "again" in practice.box.state["told"]
    practice.forget()
    assert not (tmp_path / "p.jsonl").exists()
    assert practice.box.state["forget"] == ""


def test_progress_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    practice = Practice(2, progress=tmp_path / "p.jsonl")
    practice.progress.path = tmp_path / "file" / "p.jsonl"
    practice.box.check("1")
    assert "cannot be kept" in practice.box.state["progress"]
    practice.go_on()
    seen = {practice.box.exercise}
    for _ in range(3):
        practice.box.show_solution()
        practice.go_on()
        seen.add(practice.box.exercise)
    assert len(seen) == 4  # never the same again
    practice.progress.path = tmp_path
    practice.forget()
    practice.forget()
    assert "delete that file yourself" in practice.box.state["told"]


# A guess


def test_a_guess_is_taken_and_not_judged() -> None:
    guess = Guess("How **many**?", ["2 times", "8 times"])
    guess._hear(guess, {"do": "check", "text": ""}, [])
    assert "Choose one" in guess.state["told"]
    guess._hear(guess, {"do": "check", "text": "B"}, [])
    assert guess.guessed == "8 times"
    assert "next box" in guess.state["told"]
    guess._hear(guess, {"do": "check", "text": "Z"}, [])
    assert guess.guessed == ""


def test_a_guess_needs_choices() -> None:
    for choices in (["one"], ["x"] * 9):
        with pytest.raises(BakelabError, match="between 2 and 8"):
            Guess("?", choices)


# Playgrounds


@pytest.mark.parametrize("kind", PLAYGROUNDS)
def test_every_playground_says_and_shows_something(kind: type[Playground]) -> None:
    play = kind()
    assert play.said.text.endswith(".")
    assert "<svg" in play.picture.value
    for control in play.controls.values():
        assert control.description


@pytest.mark.parametrize("kind", PLAYGROUNDS)
def test_no_end_of_a_slider_breaks_a_playground(kind: type[Playground]) -> None:
    play = kind()
    for control in play.controls.values():
        if hasattr(control, "min"):
            for end in (control.min, control.max):
                control.value = end
                assert play.said.text.endswith(".")
        elif hasattr(control, "options"):
            for _, value in control.options:
                control.value = value
                assert play.said.text.endswith(".")


@pytest.mark.parametrize("kind", PLAYGROUNDS)
def test_a_page_on_the_web_shows_a_still_of_it(kind: type[Playground]) -> None:
    bundle = kind()._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert "<svg" in data["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in data


def test_the_ratio_stays_while_the_flour_moves() -> None:
    play = RatioPlayground()
    play.controls["flour"].value = 1000
    assert play.value("water") == 650  # 1000 x 13/20, by hand
    assert "13 to 20" in play.said.text
    play.controls["keep"].value = False
    play.controls["flour"].value = 1300
    assert play.value("water") == 650
    assert "1 to 2" in play.said.text
    play.controls["keep"].value = True
    play.controls["flour"].value = 200
    assert play.value("water") == 100


def test_percentages_of_flour_and_of_dough() -> None:
    play = FlourPlayground()
    # By hand: 100 + 65 + 2 + 1 = 168 %; 2 / 168 = 1.19 %.
    assert "168 %" in play.said.text
    assert "1.2 % of the dough" in play.said.text
    play.controls["flour"].value = 1000
    assert "1680 g" in play.said.text


def test_where_the_water_comes_from() -> None:
    play = HydrationPlayground()
    for key in play.controls:
        play.controls[key].value = 0
    play.controls["milk_whole"].value = 500
    # USDA SR26, 1077: 88.13 g of water in 100 g of whole milk.
    assert play.formula.water_g == pytest.approx(500 * 0.8813, abs=0.5)
    assert "Water as written is 0 %" in play.said.text
    assert "true hydration 88.1 %" in play.said.text


def test_twice_as_long_each_way_is_eight_times_the_volume() -> None:
    play = PanPlayground()
    for name, value in (("length", 40), ("width", 20), ("depth", 14)):
        play.controls[name].value = value
    assert "2 times as long" in play.said.text
    assert "8 times as much to the rim" in play.said.text


def test_a_lid_takes_the_dome_away() -> None:
    play = PanPlayground()
    play.controls["length"].value = 20
    play.controls["lid"].value = True
    # By hand: 1400 cm3 under the lid, (7 + 2.5) x 200 = 1900 without one.
    assert f"{plain(1400 / 1900)} times the dough" in play.said.text


def plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0")


def test_scaling_follows_the_volumes() -> None:
    play = ScalingPlayground()
    # By hand: 13 x 4 x 4 = 208 in3; 9 x 5 x (2.75 + 1) = 168.75 in3.
    assert f"times {208 / 168.75:.3f}" in play.said.text
    play.controls["to"].value = play.value("from")
    assert "times 1:" in play.said.text


def test_an_odd_ratio_is_named() -> None:
    play = JudgingPlayground()
    assert "Every ratio is in the usual band" in play.said.text
    play.controls["salt_table"].value = 4.0
    assert "Salt is above the usual" in play.said.text


# Bars


def test_bars_keep_their_proportion() -> None:
    svg = bars_svg([Bar("flour", 100), Bar("water", 65, "water")], title="T")
    widths = [float(w) for w in re.findall(r'width="([\d.]+)" height="24"', svg)]
    assert widths[1] / widths[0] == pytest.approx(0.65, abs=0.001)
    assert "water 65 %" in ElementTree.fromstring(svg)[1].text  # type: ignore[operator]


def test_parts_are_named_and_patterned() -> None:
    parts = [Part("plain water", 30, "water"), Part("water in <milk>", 20, "steam")]
    svg = parts_svg([("true", parts)], title="T", whole_pct=100)
    assert "url(#bakelab-hatch-steam)" in svg
    root = ElementTree.fromstring(svg)
    words = " ".join(t.text or "" for t in root.iter() if t.tag.endswith("text"))
    assert "water in <milk>" in words
    assert "50 %" in words


# The lessons themselves


@pytest.mark.parametrize("path", sorted(LEARN.glob("*.ipynb")), ids=lambda p: p.name)
def test_lessons_are_thin_and_readable_on_the_web(path: Path) -> None:
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code = [c for c in cells if c["cell_type"] == "code"]
    for cell in code:
        assert len("".join(cell["source"]).splitlines()) <= 8
        assert cell["outputs"], "a page on the web shows what the cell gave"
        for output in cell["outputs"]:
            kinds = set(output.get("data", {}))
            assert "application/vnd.jupyter.widget-view+json" not in kinds
    source = "\n".join("".join(c["source"]) for c in cells)
    assert "Guess(" in source
    assert "Playground()" in source
    assert "Practice(lesson=" in source
    assert "A real recipe" in source
    assert "Keep this" in source


@pytest.mark.parametrize("path", sorted(LEARN.glob("*.ipynb")), ids=lambda p: p.name)
def test_lessons_read_with_ease(path: Path) -> None:
    """Flesch reading ease of 70 or more: plain English.

    The formula is R. Flesch, "A new readability yardstick", Journal of Applied
    Psychology 32 (1948), 221-233 (from memory, not looked up again): 60 to 70 is
    "standard". Colons and semicolons end a unit of thought, as he counts them;
    syllables are counted by groups of vowels.
    """
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    text = "\n\n".join(
        "".join(c["source"]) for c in cells if c["cell_type"] == "markdown"
    )
    words, sentences, syllables = _counts(text)
    assert words > 250
    ease = 206.835 - 1.015 * words / sentences - 84.6 * syllables / words
    assert ease >= 70


def test_a_lesson_takes_less_than_25_minutes() -> None:
    """Reading at 150 words a minute and 4 exercises of 3 minutes (our own guess)."""
    for path in LEARN.glob("*.ipynb"):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        text = "\n".join("".join(c["source"]) for c in cells)
        minutes = len(text.split()) / 150 + 4 * 3 + 4
        assert minutes < 25, path.name


def _counts(text: str) -> tuple[int, int, int]:
    plain_text = re.sub(r"[`*_#>|]|\$[^$]*\$", " ", text)
    parts = re.split(r"[.!?:;](?=\s|$)|\n\s*(?=\n|-|\d)", plain_text)
    sentences = [part for part in parts if re.search(r"[A-Za-z]{2,}", part)]
    words = re.findall(r"[A-Za-z][A-Za-z'’-]*", plain_text)
    syllables = 0
    for word in words:
        groups = len(re.findall(r"[aeiouy]+", word.lower()))
        silent = word.lower().endswith("e") and not word.lower().endswith("le")
        syllables += max(groups - (silent and groups > 1), 1)
    return len(words), max(len(sentences), 1), syllables
