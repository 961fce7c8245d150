"""What a recipe lists twice: a preferment of its own list, an overall formula."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache

from bakelab.formula.contents import contents
from bakelab.reading.headings import heading
from bakelab.reading.model import Line
from bakelab.reading.vocabulary import LANGUAGES, phrase_pattern, word_rows

__all__ = ["OVERALL", "counted_once", "made_above"]

OVERALL = "overall"
_BUILT = ("sponge", "poolish", "biga", "preferment", "starter", "scald", "soaker")
_MAY_BE_BUILT = ("starter", "inclusion", "other", "")
_ALL = 0.95  # of what a list makes is all of it; the rest sticks to the bowl; our own
_IN_DOUGH = ("read", "doubt")
_EDGE = " .,;:()[]*-–"


def counted_once(lines: Sequence[Line]) -> list[Line]:
    """The lines with nothing in the dough twice, and why a line is left out.

    `200 g levain` or `all of the levain` under a list of the levain's own
    parts is not added to them. Where less is used than the list makes, also
    `half the levain`, the line counts, with the hydration of that list, and
    the list does not. An overall formula beside the lists of its stages is left out.
    """
    out = _overall_left_out(list(lines))
    for index, written in enumerate(out):
        line = out[index] = _with_share(written, out)
        whole = _all_of(line, out)
        stage = whole or made_above(line, out)
        if stage is None or (line.mass_g is None and not whole):
            continue
        places = [i for i, ln in enumerate(out) if ln.stage == stage and _weighed(ln)]
        made_g = sum(out[i].mass_g or 0.0 for i in places)
        used_g = made_g if line.mass_g is None else line.mass_g
        if line.role != "starter" or used_g >= _ALL * made_g:
            remark = f"made in the list of the {stage}, {made_g:.4g} g: counted there"
            out[index] = replace(line, state="not in dough", remark=remark)
            continue
        parts = [out[i] for i in places]
        remark = (
            f"makes {made_g:.4g} g, of which {used_g:.4g} g go into the dough: "
            "that line counts"
        )
        for i in places:
            out[i] = replace(out[i], state="not in dough", remark=remark)
        out[index] = _with_hydration(line, parts)
    return out


def made_above(line: Line, lines: Sequence[Line]) -> str | None:
    """The stage, with a list of its own, that a line names; else None."""
    if line.state not in _IN_DOUGH or line.role not in _MAY_BE_BUILT:
        return None
    wanted = line.label.casefold()
    opened = heading(wanted)
    exact = opened is not None and opened.word == wanted.removeprefix("the ").strip()
    for stage in dict.fromkeys(ln.stage for ln in lines):
        own = heading(stage)
        if stage == line.stage or own is None or own.value not in _BUILT:
            continue
        same = opened is not None and opened.value == own.value
        if line.role == "starter":
            named = same or stage.casefold() in wanted
        else:  # `50 g pumpkin seeds` is not the soaker of seeds
            named = stage.casefold() == wanted or (same and exact)
        parts = [ln for ln in lines if ln.stage == stage and _weighed(ln)]
        if named and len(parts) > 1:
            return stage
    return None


def _all_of(line: Line, lines: Sequence[Line]) -> str | None:
    """The stage that a line without an amount uses up: `all of the poolish`."""
    if line.state not in (*_IN_DOUGH, "unread") or line.low is not None:
        return None
    if line.mass_g is not None or line.bakers_pct is not None:
        return None
    bare = " ".join(_whole_words().sub(" ", line.text.casefold()).split())
    bare = bare.strip(_EDGE)
    opened = heading(bare)
    exact = opened is not None and opened.word == bare
    for stage in dict.fromkeys(ln.stage for ln in lines):
        own = heading(stage)
        if stage == line.stage or own is None or own.value not in _BUILT:
            continue
        same = exact and opened is not None and opened.value == own.value
        parts = [ln for ln in lines if ln.stage == stage and _weighed(ln)]
        if len(parts) > 1 and (same or bare == stage.casefold()):
            return stage
    return None


def _with_share(line: Line, lines: Sequence[Line]) -> Line:
    """`half of the poolish` has the weight of half of what its list makes."""
    share = line.low
    if line.role != "starter" or line.mass_g is not None or line.unit is not None:
        return line
    if share is None or share != line.high or not 0 < share < 1:
        return line
    stage = made_above(line, lines)
    if stage is None:
        return line
    made_g = sum(ln.mass_g or 0.0 for ln in lines if ln.stage == stage and _weighed(ln))
    mass_g = share * made_g
    remark = f"{share:.3g} of the {made_g:.4g} g that the list of the {stage} makes"
    return replace(
        line, state="read", mass_g=mass_g, mass_low_g=mass_g, mass_high_g=mass_g,
        basis="stated", remark=remark,
    )  # fmt: skip


@cache
def _whole_words() -> re.Pattern[str]:
    """Words around a preferment that leave it whole: `all of the`, `ripe`."""
    rows = (r for language in LANGUAGES for r in word_rows(language))
    return phrase_pattern(w for r in rows if r["kind"] == "all of" for w in r["words"])


def _weighed(line: Line) -> bool:
    return line.state in _IN_DOUGH and line.mass_g is not None


def _with_hydration(line: Line, parts: Sequence[Line]) -> Line:
    """A preferment with the water over flour of the list that makes it."""
    flour = water = 0.0
    for part in parts:
        inside = contents(
            part.ingredient, part.role, part.mass_g or 0.0, part.hydration_pct
        )
        flour, water = flour + inside.flour_g, water + inside.water_g
    if line.hydration_pct is not None or flour <= 0:
        return line
    return replace(line, hydration_pct=100 * water / flour)


def _overall_left_out(lines: list[Line]) -> list[Line]:
    overall = [ln for ln in lines if _is_overall(ln)]
    if not overall:
        return lines
    others = [ln for ln in lines if not _is_overall(ln) and _weighed(ln)]
    if any(ln.role == "flour" for ln in others):
        remark = "the overall formula: the lists of its stages count"
        return list(_changed(lines, state="not in dough", remark=remark))
    return list(_changed(lines, stage="dough"))


def _changed(lines: Sequence[Line], **fields: str) -> Iterator[Line]:
    for line in lines:
        touched = _is_overall(line) and (
            "state" not in fields or line.state in _IN_DOUGH
        )
        yield replace(line, **fields) if touched else line  # type: ignore[arg-type]


def _is_overall(line: Line) -> bool:
    found = heading(line.stage)
    return found is not None and found.value == OVERALL
