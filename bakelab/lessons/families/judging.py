"""Catching a wrong line: a percentage that cannot be, an amount out of its band."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread, exact
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.words import (
    TENTH,
    amount,
    capital,
    decimal,
    grams,
    rounded,
    shown,
    worked,
)
from bakelab.ranges import band, style_name

__all__ = ["NONE_OF_THEM", "judge_formula", "wrong_ingredient"]

THE_SUM = "the sum: it is more than 100 %"
NONE_OF_THEM = "none of them, all is usual"
_MOST_LINES = 4


def wrong_ingredient(draw: Draw, level: int) -> Draft:
    """Weights and percentages side by side; one percentage does not fit."""
    bread = draw_bread(draw, level, _many_lines)
    lines = {p.name: 100 * p.mass_g / bread.flour_g for p in bread.others}
    part = draw.pick([p for p in bread.others if lines[p.name] >= 1])
    printed = {name: rounded(percent, TENTH) for name, percent in lines.items()}
    wrong = _misprint(draw, bread, part, level)
    printed[part.name] = wrong
    asked = [p.name for p in bread.others if p is not part and lines[p.name] >= 1]
    names = {part.name, *draw.some(asked, min(len(asked), _MOST_LINES - 1))}
    flour = amount(bread.flour_g, "g")
    draft = Draft(
        question=(
            f"Someone has worked out the percentages of *{bread.title}*. **One line "
            "does not fit.** Which?"
        ),
        heading=("what", "weight", "percent of flour"),
        given=(
            ("flour", flour, "100 %"),
            *((p.name, grams(p.mass_g), _pct(printed[p.name])) for p in bread.others),
        ),
        answer=part.name,
        choices=(*(p.name for p in bread.others if p.name in names), THE_SUM),
    )
    _help_to_find(draft, bread, part, names, wrong)
    return draft


def _help_to_find(
    draft: Draft, bread: Bread, part: Part, names: set[str], wrong: Fraction
) -> None:
    flour = amount(bread.flour_g, "g")
    true = 100 * part.mass_g / bread.flour_g
    draft.hint("The flour is 100 %. Every other line compares with it.")
    draft.hint("Estimate first: what would 10 % of the flour weigh? And 1 %?")
    draft.hint(
        f"1 % of the flour is {amount(bread.flour_g / 100, 'g')}. Go line by line."
    )
    draft.tell(f"1 % of the flour is {amount(bread.flour_g / 100, 'g')}.")
    draft.tell(
        f"The line “{part.name}”: {grams(part.mass_g)} ÷ {flour} × 100 = "
        f"{worked(true, '%', TENTH)}, not {_pct(wrong)}."
    )
    for other in bread.others:
        if other.name in names - {part.name}:
            draft.slip("line_fits", other.name, _fits(other, bread))
    draft.slip("sum_is_100", THE_SUM)


def _misprint(draw: Draw, bread: Bread, part: Part, level: int) -> Fraction:
    """A wrong percentage: tenfold, of the dough, or off by a fifth to a third."""
    true = 100 * part.mass_g / bread.flour_g
    tenfold = true / 10 if true >= 10 or draw.yes() else true * 10
    of_dough = 100 * part.mass_g / bread.dough_g
    slight = true * (1 + Fraction(draw.pick((-33, -25, -20, 20, 25, 33)), 100))
    wrong = rounded({1: tenfold, 2: of_dough, 3: slight}[level], TENTH)
    return wrong if abs(wrong - true) >= Fraction(1, 5) else rounded(true + 1, TENTH)


def _many_lines(bread: Bread) -> bool:
    """One stage, every ingredient once, and lines enough to choose from."""
    names = [p.name for p in bread.others]
    large = sum(p.mass_g >= bread.flour_g / 100 for p in bread.others)
    plain = len(bread.stages) == 1 and not bread.has("starter")
    return plain and len(set(names)) == len(names) and large >= 3


def _fits(part: Part, bread: Bread) -> str:
    percent = shown(100 * part.mass_g / bread.flour_g, TENTH)
    return (
        f"This line fits: {grams(part.mass_g)} ÷ {grams(bread.flour_g)} × 100 = "
        f"{percent} %. Check the others the same way."
    )


@dataclass(frozen=True)
class _Line:
    """One ingredient with a usual band, in percent of flour."""

    name: str
    percent: Fraction
    low: Fraction
    high: Fraction

    @property
    def usual(self) -> str:
        return f"{decimal(self.low)} to {decimal(self.high)} %"

    @property
    def is_usual(self) -> bool:
        return self.low <= self.percent <= self.high


def judge_formula(draw: Draw, level: int) -> Draft:
    """Which line lies out of its band? In grams from level 2; none at times."""
    bread = draw_bread(draw, level, _banded)
    lines = _lines(bread)
    odd = draw.pick(range(len(lines)))
    answer, flour = NONE_OF_THEM, bread.flour_g
    if level < 3 or not draw.yes(4):
        answer, lines[odd] = lines[odd].name, _moved(draw, lines[odd], level)
    lines = [_reweighed(line, flour) for line in lines] if level > 1 else lines
    draft = Draft(
        question=(
            f"*{bread.title}*, of the style “{style_name(bread.style)}”. The table "
            "shows the usual band of each line, in percent of the flour. **Which line "
            "would you question?**"
        ),
        heading=("what", "in this formula", "usual, of the flour"),
        given=(
            ("flour", amount(flour, "g"), "100 %"),
            *((li.name, _printed(li, flour, level), li.usual) for li in lines),
        ),
        answer=answer,
        choices=(*(line.name for line in lines), NONE_OF_THEM),
        source="Usual bands of bakelab, data/trade_ranges.csv",
        caution="A usual band is what bakers do, not a limit of safety or of law.",
    )
    _help_to_judge(draft, lines, odd, flour)
    return draft


def _hint_at_bands(draft: Draft, first: _Line, flour: Fraction) -> None:
    """Grams have to become percent first; what is in percent is compared as it is."""
    if draft.given[1][1].endswith("%"):
        draft.hint("The lines are in percent of the flour already: compare them.")
        draft.hint("Does each lie between the two numbers of its band?")
        draft.hint(f"Start like this: is {draft.given[1][1]} within {first.usual}?")
        return
    draft.hint("Turn every line into percent of the flour first.")
    draft.hint("Then see whether it lies between the two numbers of its band.")
    draft.hint(f"1 % of this flour is {amount(flour / 100, 'g')}.")


def _help_to_judge(draft: Draft, lines: list[_Line], odd: int, flour: Fraction) -> None:
    answer = draft.answer
    all_usual = answer == NONE_OF_THEM
    _hint_at_bands(draft, lines[0], flour)
    for line in lines:
        draft.tell(_verdict(line))
    draft.tell(
        _effect(lines[odd]) if not all_usual else "So there is nothing to doubt."
    )
    for line in lines:
        if line.name != answer:
            draft.slip("usual_line_doubted", line.name, _verdict(line))
    draft.slip("band_missed", NONE_OF_THEM)


def _lines(bread: Bread) -> list[_Line]:
    lines = []
    for part in bread.others:
        measure = _measure(part)
        known = band(bread.style, measure) if measure else None
        if known is not None and known.high > 0:
            percent = rounded(100 * part.mass_g / bread.flour_g, TENTH)
            low, high = exact(known.low), exact(known.high)
            lines.append(_Line(part.name, min(max(percent, low), high), low, high))
    return lines


def _measure(part: Part) -> str:
    """The measure that this one ingredient alone makes up, or nothing."""
    if part.role == "yeast":
        return part.key
    by_role = {"salt": "salt", "sweetener": "sugar", "egg": "egg", "water": "hydration"}
    oil = part.key.startswith("oil") or part.key == "lard"
    return "fat" if oil else by_role.get(part.role, "")


def _moved(draw: Draw, line: _Line, level: int) -> _Line:
    """The line out of its band: far at level 1, nearer at level 3."""
    far = {1: (20, 35), 2: (15, 22), 3: (13, 17)}[level]
    times = Fraction(draw.whole(*far), 10)
    low = line.low >= 1 and draw.yes(3)
    percent = line.low / times if low else line.high * times
    if line.high > 30:
        percent = line.low - 12 * times / 2 if low else line.high + 12 * times / 2
    return _Line(line.name, rounded(percent, TENTH), line.low, line.high)


def _reweighed(line: _Line, flour: Fraction) -> _Line:
    """The line as a scale would show it, as long as its place stays the same."""
    for step in (Fraction(5), Fraction(1), Fraction(1, 2), TENTH):
        mass = rounded(line.percent * flour / 100, step)
        new = replace(line, percent=100 * mass / flour)
        if mass >= 20 * step and new.is_usual == line.is_usual:
            return new
    return line


def _printed(line: _Line, flour: Fraction, level: int) -> str:
    if level == 1:
        return _pct(line.percent)
    return amount(line.percent * flour / 100, "g")


def _verdict(line: _Line) -> str:
    where = "lies in the usual band"
    if line.percent > line.high:
        where = "is above the usual band"
    elif line.percent < line.low:
        where = "is below the usual band"
    percent = amount(line.percent, "%", TENTH)
    return f"{capital(line.name)}: {percent} {where}, {line.usual}."


def _effect(line: _Line) -> str:
    """What such an amount would do; common practice, no source."""
    high = line.percent > line.high
    for word, (much, little) in _EFFECTS.items():
        if word in line.name:
            return much if high else little
    return "Too much or too little of it makes another bread than the one named."


_EFFECTS = {
    "salt": (
        "With so much salt the bread tastes too salty and the yeast is slowed.",
        "With so little salt the bread tastes flat and the dough is slack and fast.",
    ),
    "yeast": (
        "With so much yeast the dough rises too fast and tastes of yeast.",
        "With so little yeast the dough takes far longer to rise.",
    ),
    "water": (
        "With so much water the dough runs.",
        "With so little water the dough is stiff and the crumb dry.",
    ),
    "sugar": (
        "So much sugar slows the yeast and browns the crust too early.",
        "With so little sugar the bread is less sweet and paler than its name says.",
    ),
}


def _only_plain_water(bread: Bread) -> bool:
    wet = ("dairy", "egg", "starter", "inclusion")
    fats = [p for p in bread.parts if p.role == "fat" and not p.key.startswith("oil")]
    sweet = [p for p in bread.parts if p.role == "sweetener" and p.key != "sugar_white"]
    return not fats and not sweet and not any(bread.has(role) for role in wet)


def _banded(bread: Bread) -> bool:
    """One stage, plain water the only liquid, three lines or more with a band."""
    plain = len(bread.stages) == 1 and _only_plain_water(bread)
    return plain and len(_lines(bread)) >= 3


def _pct(percent: Fraction) -> str:
    return amount(percent, "%")
