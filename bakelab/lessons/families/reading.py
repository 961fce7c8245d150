"""Reading a formula: what the crumb will be like, what differs, which bread it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from bakelab.lessons.bread import exact
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.crumbs import CRUMBS, DENSE, RICH, WHOLE, WHY
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import TENTH, amount, decimal
from bakelab.ranges import (
    band,
    example_formulas,
    measures,
    shares,
    style_name,
    trade_ranges,
)

__all__ = ["reading_formula"]

_PRACTICE = "Usual bands of bakelab, data/trade_ranges.csv; crumb: common practice"

_NAMES = {
    "hydration": "water in all",
    "fat": "fat",
    "sugar": "sugar",
    "egg": "egg",
    "milk_solids": "milk solids",
    "salt": "salt",
    "whole": "whole-grain flour, of all flour",
    "rye": "rye flour, of all flour",
}
_CLEARLY = Fraction(1, 4)  # Nearer to a band than this, a guess would be unfair.
_BANDED = ("hydration", "fat", "sugar", "egg", "salt")


def reading_formula(draw: Draw, level: int) -> Draft:
    """Level 1 the crumb, 2 what differs between two, 3 which bread it is."""
    return (_crumb, _compare, _which)[level - 1](draw)


def _crumb(draw: Draw) -> Draft:
    style = draw.pick(tuple(CRUMBS))
    numbers, right = _numbers(draw, style), CRUMBS[style]
    others = draw.some([c for c in WHY if c != right], 3)
    choices = tuple(draw.some([right, *others], 4))
    draft = Draft(
        question=(
            "You are given only the numbers of a bread, in percent of the flour. "
            "**What will its crumb be like, and why?** (Water in all counts the water "
            "in milk, egg and butter too.)"
        ),
        given=_table(numbers),
        answer=right,
        choices=choices,
        source=_PRACTICE,
        picture=_picture(numbers),
        caution=(
            "These are rules of thumb: kneading, rising and baking change a crumb too."
        ),
    )
    _help_with_crumb(draft, style, numbers, others)
    return draft


def _help_with_crumb(
    draft: Draft, style: str, numbers: Mapping[str, Fraction], others: list[str]
) -> None:
    right = str(draft.answer)
    draft.hint("Look at the flour first: is it mostly white wheat?")
    draft.hint("Then at fat and egg, then at the water.")
    draft.hint("Much water opens a crumb; fat, bran and rye close it.")
    draft.tell(f"The numbers say: {_said(numbers)}.")
    draft.tell(f"That is {WHY[right]}.")
    draft.tell(f"So: {right}. The numbers are those of “{style_name(style)}”.")
    for other in others:
        draft.slip(
            "one_number_alone",
            other,
            f"That would take {WHY[other]}. Here the numbers say: {_said(numbers)}.",
        )


@dataclass(frozen=True)
class _Trait:
    """Something two breads differ in, and the number that says so.

    `unlike` are styles where something else decides: lye, boiling, a scald, rye.
    """

    question: str
    measure: str
    least: int
    why: str
    unlike: tuple[str, ...] = ()


_TRAITS = (
    _Trait(
        "Which crust **browns sooner** in the same oven?", "sugar", 5,
        "more sugar browns sooner", ("pretzel", "bagel"),
    ),
    _Trait(
        "Which has the **more tender, richer** crumb?", "fat", 8,
        "more fat makes a crumb tender",
    ),
    _Trait(
        "Which dough is **slacker and stickier** to handle?", "hydration", 10,
        "more water with the same kind of flour makes a slacker dough",
        ("milk_bread", *(s for s, c in CRUMBS.items() if c in (RICH, DENSE, WHOLE))),
    ),
)  # fmt: skip
_ALIKE = "both about the same"


def _compare(draw: Draw) -> Draft:
    trait = draw.pick(_TRAITS)
    pool = [s for s in CRUMBS if s not in trait.unlike]
    while True:
        one, other = draw.some(pool, 2)
        first, second = _numbers(draw, one), _numbers(draw, other)
        apart = first[trait.measure] - second[trait.measure]
        if abs(apart) >= trait.least:
            break
    names = style_name(one), style_name(other)
    right, wrong = names if apart > 0 else names[::-1]
    keys = [k for k in _NAMES if first.get(k) or second.get(k)]
    draft = Draft(
        question=(
            f"Two breads, in percent of the flour. {trait.question} (Water in all "
            "counts the water in milk, egg and butter too.)"
        ),
        heading=("what", *names),
        given=[(_NAMES[k], _pct(first[k]), _pct(second[k])) for k in keys],
        answer=right,
        choices=(*names, _ALIKE),
        source=_PRACTICE,
    )
    low, high = sorted((first[trait.measure], second[trait.measure]))
    _help_to_compare(draft, trait, wrong, f"{_pct(high)} against {_pct(low)}")
    return draft


def _help_to_compare(draft: Draft, trait: _Trait, wrong: str, pair: str) -> None:
    what, right = _NAMES[trait.measure], draft.answer
    draft.hint("Which ingredient has most to do with it?")
    draft.hint(f"Compare one line: {what}.")
    draft.hint(f"The line “{what}” says {pair}.")
    draft.tell(f"The line that matters is “{what}”: {pair}.")
    draft.tell(f"{trait.why[0].upper()}{trait.why[1:]}. So: {right}.")
    draft.slip("other_line_read", wrong, f"Compare the line “{what}”: {pair}.")
    draft.slip(
        "difference_overlooked",
        _ALIKE,
        f"Look at the line “{what}” again: {pair}. That is a clear difference.",
    )


def _which(draw: Draw) -> Draft:
    style = draw.pick(tuple(_banded_styles()))
    numbers = {k: v for k, v in _numbers(draw, style).items() if k in _BANDED}
    failing = [
        s for s in _banded_styles()
        if s != style and _misfits(numbers, s, apart=_CLEARLY)
    ]  # fmt: skip
    others = draw.some(failing, 3)
    names = {s: style_name(s) for s in (style, *others)}
    draft = Draft(
        question=(
            "You are given only these numbers, in percent of the flour. **Which of "
            "these breads can it be?** (Water in all counts the water in milk, egg and "
            "butter too.)"
        ),
        given=_table(numbers),
        answer=names[style],
        choices=tuple(names[s] for s in draw.some([style, *others], 4)),
        source=_PRACTICE,
    )
    _help_to_strike_out(draft, numbers, names)
    return draft


def _help_to_strike_out(
    draft: Draft, numbers: Mapping[str, Fraction], names: Mapping[str, str]
) -> None:
    style, *others = names
    draft.hint("Which number is the most unusual? Which breads have it?")
    draft.hint("Strike out every bread that one of the numbers does not fit.")
    draft.hint(f"Start with water and fat: {_said(numbers)}.")
    for other in others:
        misfit = _misfits(numbers, other, apart=_CLEARLY)
        draft.tell(f"Not {names[other]}: {misfit}.")
        draft.slip(
            "one_number_alone",
            names[other],
            f"For {names[other]}: {misfit}. Every number has to fit, not just one.",
        )
    draft.tell(f"Every number fits {names[style]}: of these four it can only be that.")


def _misfits(
    numbers: Mapping[str, Fraction], style: str, *, apart: Fraction = Fraction(0)
) -> str:
    """The first number that lies out of the style's usual band, in words.

    `apart` is how far out it has to lie, as a share of the width of the band.
    """
    for key in _BANDED:
        known = band(style, key)
        low, high = (exact(known.low), exact(known.high)) if known else (0, 0)
        room = (high - low) * apart
        if not low - room <= numbers[key] <= high + room:
            usual = f"{decimal(Fraction(low))} to {decimal(Fraction(high))} %"
            return f"usually {usual} {_NAMES[key]}, here {_pct(numbers[key])}"
    return ""


@cache
def _base(style: str) -> Mapping[str, Fraction]:
    """Measures of the style's example, in whole or tenths of percent of flour."""
    formula = example_formulas()[style]
    found = measures(formula) | {k: shares(formula)[k] for k in ("whole", "rye")}
    return {key: exact(round(found.get(key, 0.0), 1)) for key in _NAMES if key in found}


def _numbers(draw: Draw, style: str) -> dict[str, Fraction]:
    """The example's numbers with water, salt, fat and sugar moved in their bands."""
    found = dict(_base(style))
    for key, step, most in (
        ("hydration", Fraction(1, 2), 4),
        ("salt", TENTH, 2),
        ("fat", Fraction(1, 2), 2),
        ("sugar", Fraction(1, 2), 2),
    ):
        known = band(style, key)
        moved = found[key] + step * draw.whole(-most, most)
        if found[key] and known and known.low <= moved <= known.high:
            found[key] = moved
    return found


@cache
def _banded_styles() -> tuple[str, ...]:
    """Styles with a usual band for salt and water, without gluten-free ones."""
    table = trade_ranges()
    with_water = set(table[table["measure"] == "hydration"]["style"])
    return tuple(
        s for s in example_formulas()
        if s in with_water and not s.startswith("gluten") and not _misfits(_base(s), s)
    )  # fmt: skip


def _table(numbers: Mapping[str, Fraction]) -> list[tuple[str, str]]:
    return [(_NAMES[key], _pct(value)) for key, value in numbers.items()]


def _said(numbers: Mapping[str, Fraction]) -> str:
    telling = [k for k in numbers if k != "salt" and (numbers[k] or k == "fat")]
    return ", ".join(f"{_short_name(k)} {_pct(numbers[k])}" for k in telling)


def _pct(value: Fraction) -> str:
    return amount(value, "%")


def _short_name(key: str) -> str:
    return _NAMES[key].removesuffix(", of all flour")


def _picture(numbers: Mapping[str, Fraction]) -> str:
    rows = [("flour", Fraction(100), "100 %")]
    rows += [(_short_name(k), v, _pct(v)) for k, v in numbers.items() if v]
    return bars(rows, title="The formula as bars, flour being 100 %")
