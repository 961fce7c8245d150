"""Score the recipe reader against the corpus: percent right for each field.

Run ``python tests/reading/score_corpus.py [--show-misses]``. The meaning of the
gold columns is in ``corpus/README.md``.
"""

import argparse
import csv
import difflib
import html
import json
import re
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bakelab.pans import pan_in_text
from bakelab.reading import read_line, read_recipe

__all__ = ["Score", "main", "score_lines", "score_pans", "score_recipes"]

CORPUS = Path(__file__).parent / "corpus"
LINE_FIELDS = ("low", "high", "unit", "stated_g", "role", "state", "optional")
JUDGED = ("low", "high", "unit", "stated_g", "role")
MEASURES = ("length", "width", "depth", "diameter")
INTERNATIONAL = frozenset({"g", "kg", "mg", "ml", "cl", "dl", "l", "%"})
CM_PER_UNIT = {"in": 2.54, "cm": 1.0, "mm": 0.1}
NUMBER_TOLERANCE = 0.01
LENGTH_TOLERANCE = 0.03
SAME_TEXT = 1.0
ENCLOSED_TEXT = 0.95
TEXT_LIKENESS = 0.7


@dataclass
class Score:
    """Right and all answers by field, with the misses in words."""

    name: str
    right: dict[str, int] = field(default_factory=dict)
    total: dict[str, int] = field(default_factory=dict)
    misses: list[str] = field(default_factory=list)

    def count(self, key: str, good: bool) -> bool:
        """Count one answer under ``key`` and hand back whether it was right."""
        self.right[key] = self.right.get(key, 0) + int(good)
        self.total[key] = self.total.get(key, 0) + 1
        return good

    def percent(self, key: str) -> float:
        """Percent right under ``key``; 100 where nothing was asked."""
        asked = self.total.get(key, 0)
        return 100.0 * self.right.get(key, 0) / asked if asked else 100.0

    def report(self, *, show_misses: bool) -> str:
        """Lines of text for the terminal."""
        rows = [f"{self.name}"]
        rows += [
            f"  {key:<24}{self.percent(key):7.1f} %   {self.right[key]}/{total}"
            for key, total in self.total.items()
        ]
        if show_misses:
            rows += [f"    - {miss}" for miss in self.misses]
        return "\n".join(rows)


def score_lines() -> Score:
    """Read every line of ``lines.csv`` alone."""
    score = Score("Ingredient lines")
    for gold in _table("lines.csv"):
        wrong = _line_misses(read_line(gold["text"], language=None), gold, score)
        right = score.count("whole line", not wrong)
        score.count(f"whole line, {_language_group(gold['language'])}", right)
        if wrong:
            score.misses.append(f"{gold['text']!r}: {'; '.join(wrong)}")
    return score


def score_pans() -> Score:
    """Look for a pan in every sentence of ``pans.csv``."""
    score = Score("Pan sentences")
    for gold in _table("pans.csv"):
        mentions = list(pan_in_text(gold["text"]))
        wrong = _pan_misses(mentions[0] if mentions else None, gold, score)
        score.count("whole sentence", not wrong)
        if wrong:
            score.misses.append(f"{gold['text']!r}: {'; '.join(wrong)}")
    return score


def score_recipes() -> Score:
    """Read every whole recipe of ``recipes/``."""
    score = Score("Whole recipes")
    for path in sorted((CORPUS / "recipes").glob("*.gold.json")):
        gold = json.loads(path.read_text(encoding="utf-8"))
        stem = path.name.removesuffix(".gold.json")
        source = next(found for found in path.parent.glob(f"{stem}.*") if found != path)
        wrong = _recipe_misses(read_recipe(source), gold, score)
        score.count("whole recipe", not wrong)
        score.misses += [f"{source.name}: {miss}" for miss in wrong]
    return score


def main() -> None:
    """Print the three scores."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--show-misses", action="store_true")
    arguments = parser.parse_args()
    for scored in (score_lines, score_pans, score_recipes):
        start = time.perf_counter()
        score = scored()
        print(score.report(show_misses=arguments.show_misses))
        print(f"  ({time.perf_counter() - start:.1f} s)\n")


def _table(name: str) -> list[dict[str, str]]:
    with (CORPUS / name).open(encoding="utf-8", newline="") as file:
        rows = (row for row in file if not row.startswith("# "))
        return list(csv.DictReader(rows))


def _language_group(language: str) -> str:
    return language if language in {"en", "de", "fr"} else "other languages"


def _get(thing: object, name: str) -> Any:
    """Attribute or key ``name`` of ``thing``; None where it has none."""
    if isinstance(thing, Mapping):
        return thing.get(name)
    return getattr(thing, name, None)


def _line_misses(got: object, gold: Mapping[str, Any], score: Score) -> list[str]:
    """Fields of one line that differ from gold, in words; each is counted."""
    asked = {name: _as_gold(gold.get(name, "*")) for name in LINE_FIELDS}
    state = str(_get(got, "state"))
    if _only_state_counts(asked, state):
        asked = {"state": asked["state"]}
    wrong = []
    for name, wanted in asked.items():
        if "*" in wanted.split("/"):
            continue
        answer = _get(got, name)
        if not score.count(name, _matches(answer, wanted, name)):
            wrong.append(f"{name} {answer!r}, not {wanted or 'none'}")
    _count_hint(got, _as_gold(gold.get("ingredient_hint", "")), score)
    harmful = any(miss.split(" ", 1)[0] in JUDGED for miss in wrong)
    score.count("not silently wrong", not (harmful and state == "read"))
    return wrong


def _only_state_counts(asked: Mapping[str, str], state: str) -> bool:
    states = asked["state"].split("/")
    if states == ["unread"]:
        return True
    spared = not INTERNATIONAL & set(asked["unit"].split("/"))
    return state == "unread" and "unread" in states and spared


def _count_hint(got: object, hint: str, score: Score) -> None:
    """Soft check: one word of the hint stands in the ingredient's key or label."""
    names = f"{_get(got, 'ingredient')} {_get(got, 'label')}".casefold()
    words = re.split(r"[ /]", hint.casefold())
    if words != [""]:
        score.count("ingredient (soft)", any(word in names for word in words))


def _as_gold(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "y" if value else ""
    if isinstance(value, list):
        return "..".join(str(item) for item in value)
    return str(value)


def _matches(answer: object, wanted: str, name: str) -> bool:
    if name == "optional":
        return bool(answer) == (wanted == "y")
    return any(_matches_one(answer, choice) for choice in wanted.split("/"))


def _matches_one(answer: object, choice: str) -> bool:
    if choice in {"", "none"}:
        return answer is None or answer == ""
    span = _span(choice)
    if span is None:
        return str(answer) == choice
    return _within(answer, span, NUMBER_TOLERANCE)


def _span(choice: str) -> tuple[float, float] | None:
    """``12`` or ``12..15`` as two numbers; None where it is a word."""
    low, _, high = choice.partition("..")
    try:
        return float(low), float(high or low)
    except ValueError:
        return None


def _within(answer: object, span: tuple[float, float], tolerance: float) -> bool:
    if isinstance(answer, bool) or not isinstance(answer, int | float):
        return False
    low, high = span
    return low * (1 - tolerance) <= answer <= high * (1 + tolerance)


def _pan_misses(mention: object, gold: Mapping[str, str], score: Score) -> list[str]:
    """What differs between the pan found and the pan of a gold row."""
    if gold["is_pan"] == "n":
        fine = score.count("traps left alone", mention is None)
        return [] if fine else [f"taken for a pan: {_pan_of(mention)}"]
    if not score.count("pan found", mention is not None):
        return ["no pan found"]
    return _pan_differences(_pan_of(mention), gold, score)


def _pan_of(mention: object) -> object:
    inner = _get(mention, "pan")
    return mention if inner is None else inner


def _pan_differences(pan: object, gold: Mapping[str, Any], score: Score) -> list[str]:
    wrong = []
    shape, count = str(_get(pan, "shape")), _get(pan, "count")
    if not score.count("pan shape", shape in gold["shape"].split("/")):
        wrong.append(f"shape {shape}, not {gold['shape']}")
    if not score.count("pan count", _count_matches(count, _as_gold(gold["count"]))):
        wrong.append(f"count {count}, not {gold['count']}")
    lidded = bool(_get(pan, "lidded"))
    if not score.count("pan lid", lidded == (gold.get("lidded") in {"y", True})):
        wrong.append(f"lidded {lidded}")
    sides = [_side_miss(pan, gold, side) for side in MEASURES]
    missed = [miss for miss in sides if miss]
    score.count("pan measures", not missed)
    return wrong + missed


def _count_matches(answer: object, wanted: str) -> bool:
    return "*" in wanted or any(str(answer) == choice for choice in wanted.split("/"))


def _side_miss(pan: object, gold: Mapping[str, Any], side: str) -> str:
    """Words for a side that differs; a side gold does not give must be empty."""
    answer = _get(pan, f"{side}_cm")
    wanted = _as_gold(gold.get(side))
    if not wanted:
        assumed = _get(pan, "assumed")
        fine = answer is None or side == "depth" or bool(assumed)
        return "" if fine else f"{side} {answer!r}, not none"
    scale = CM_PER_UNIT[str(gold["unit"])]
    spans = [
        (float(choice) * scale, float(choice) * scale) for choice in wanted.split("/")
    ]
    if any(_within(answer, span, LENGTH_TOLERANCE) for span in spans):
        return ""
    return f"{side} {answer!r} cm, not {wanted} {gold['unit']}"


def _recipe_misses(got: object, gold: Mapping[str, Any], score: Score) -> list[str]:
    wrong = _head_misses(got, gold, score)
    pairs, extra = _pair_lines(list(_get(got, "lines") or []), gold["lines"])
    for line, wanted in pairs:
        wrong += _recipe_line_misses(line, wanted, score)
    loud = [str(_get(line, "text")) for line in extra if _counts_as_dough(line)]
    if not score.count("no line invented", not loud):
        wrong.append(f"lines nobody wrote as ingredients: {loud}")
    found = [line for line, _ in pairs if line is not None] + extra
    return wrong + _flour_miss(found, gold["flour_g_approx"], score)


def _counts_as_dough(line: object) -> bool:
    return bool(_get(line, "state") == "read")


def _recipe_line_misses(
    line: object, wanted: Mapping[str, Any], score: Score
) -> list[str]:
    text = wanted["text"]
    if not score.count("line found", line is not None):
        return [f"{text!r}: dropped"]
    misses = _line_misses(line, wanted, score)
    stages = str(wanted["stage"]).casefold().split("/")
    stage = str(_get(line, "stage")).casefold()
    fine = "*" in stages or any(choice in stage for choice in stages)
    if not score.count("stage", fine):
        misses.append(f"stage {stage!r}, not {wanted['stage']}")
    return [f"{text!r}: {'; '.join(misses)}"] if misses else []


def _head_misses(got: object, gold: Mapping[str, Any], score: Score) -> list[str]:
    wrong = []
    for name in ("title", "language"):
        answer = str(_get(got, name) or "").strip()
        wanted = [choice.casefold() for choice in str(gold[name] or "").split("/")]
        if not score.count(name, "*" in wanted or answer.casefold() in wanted):
            wrong.append(f"{name} {answer!r}, not {gold[name]!r}")
    oven, minutes = _get(got, "oven_c"), _get(got, "bake_minutes")
    if not score.count("oven", _oven_matches(oven, gold["oven_c"])):
        wrong.append(f"oven {oven!r} C, not {gold['oven_c']}")
    if not score.count("bake time", _minutes_match(minutes, gold["bake_minutes"])):
        wrong.append(f"bake time {minutes!r}, not {gold['bake_minutes']}")
    return wrong + _recipe_pan_misses(_get(got, "pan"), gold["pan"], score)


def _oven_matches(answer: object, wanted: float | None) -> bool:
    if wanted is None or answer is None:
        return answer is None and wanted is None
    return _within(answer, (wanted - 3, wanted + 3), 0.0)


def _minutes_match(answer: Any, wanted: list[float] | None) -> bool:
    if wanted is None or answer is None:
        return answer is None and wanted is None
    return [round(float(value)) for value in answer] == [round(x) for x in wanted]


def _recipe_pan_misses(
    mention: object, gold: Mapping[str, Any] | None, score: Score
) -> list[str]:
    if gold is None:
        fine = score.count("no pan where none is", mention is None)
        return [] if fine else [f"pan {_pan_of(mention)}, not none"]
    if not score.count("pan found", mention is not None):
        return ["pan not found"]
    return _pan_differences(_pan_of(mention), gold, score)


def _flour_miss(
    lines: Iterable[object], wanted: list[float] | None, score: Score
) -> list[str]:
    """Sum of the flour lines that go into the dough, against its gold band."""
    if wanted is None:
        return []
    masses = [
        float(_get(line, "mass_g") or 0.0)
        for line in lines
        if _get(line, "role") == "flour" and _get(line, "state") in {"read", "doubt"}
    ]
    total = sum(masses)
    if score.count("flour in all", wanted[0] <= total <= wanted[1]):
        return []
    return [f"flour in all {total:.0f} g, not {wanted[0]}-{wanted[1]} g"]


def _pair_lines(
    lines: list[object], gold: list[dict[str, Any]]
) -> tuple[list[tuple[object, dict[str, Any]]], list[object]]:
    """Pair each gold line with the line read from it; the rest are extra.

    The surest pairs are made first, so a like line never takes another's place.
    """
    left, open_gold = list(lines), list(gold)
    pairs: list[tuple[object, dict[str, Any]]] = []
    for least in (SAME_TEXT, ENCLOSED_TEXT, TEXT_LIKENESS):
        for wanted in list(open_gold):
            found = max(left, key=lambda line: _likeness(line, wanted), default=None)
            if found is not None and _likeness(found, wanted) >= least:
                left.remove(found)
                open_gold.remove(wanted)
                pairs.append((found, wanted))
    return pairs + [(None, wanted) for wanted in open_gold], left


def _likeness(line: object, wanted: Mapping[str, Any]) -> float:
    if wanted.get("from_method"):
        return _same_quantity(line, wanted)
    ours, theirs = _plain(str(_get(line, "text"))), _plain(wanted["text"])
    if ours == theirs:
        return SAME_TEXT
    if f" {theirs} " in f" {ours} " or (ours and f" {ours} " in f" {theirs} "):
        return ENCLOSED_TEXT
    matcher = difflib.SequenceMatcher(None, ours, theirs, autojunk=False)
    return min(matcher.ratio(), ENCLOSED_TEXT - 0.01)


def _same_quantity(line: object, wanted: Mapping[str, Any]) -> float:
    role = bool(_get(line, "role") == wanted["role"])
    quantity = _matches(_get(line, "low"), _as_gold(wanted["low"]), "low")
    return 0.5 * role + 0.5 * quantity


def _plain(text: str) -> str:
    unescaped = html.unescape(html.unescape(text)).casefold()
    return re.sub(r"[\s|*_,;.:\[\]•·–-]+", " ", unescaped).strip()


if __name__ == "__main__":
    main()
