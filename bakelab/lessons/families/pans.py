"""What a pan holds: with a lid, with a dome, with sloping walls."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.tins import (
    CM_PER_IN,
    LIDDED,
    OPEN,
    PI,
    ROUND,
    TAPERED,
    Tin,
    draw_tin,
    side_views,
)
from bakelab.lessons.words import decimal, step_text, worked

__all__ = ["LID_CAUTION", "pan_volume"]

LID_CAUTION = (
    "A lidded pan filled too high can burst open in the oven; leave room to rise and "
    "let it cool before you slide the lid."
)


def pan_volume(draw: Draw, level: int) -> Draft:
    """Level 1 with a lid, 2 open with room for the dome, 3 sloping walls."""
    if level == 1:
        return _lidded(draw_tin(draw, LIDDED))
    if level == 2:
        return _open(draw_tin(draw, (*OPEN, *ROUND)))
    return _tapered(draw_tin(draw, TAPERED))


def _lidded(tin: Tin) -> Draft:
    draft = _draft(
        tin,
        f"A loaf pan with a lid measures {tin.measures} inside. How many {_cubic(tin)} "
        "does it hold when the lid is on?",
        tin.usable,
    )
    draft.caution = LID_CAUTION
    draft.hint("A box: think of layers of little cubes.")
    draft.hint("Does the loaf rise above the rim when a lid is on?")
    draft.hint(f"Start with the bottom: {_times(tin.length, tin.width)}.")
    _tell_box(draft, tin)
    _common_slips(draft, tin)
    dome = Fraction(5, 2) if tin.unit == "cm" else Fraction(1)
    draft.slip("dome_on_lid", tin.usable / tin.depth * (tin.depth + dome))
    return draft


def _open(tin: Tin) -> Draft:
    shape = "round pan" if tin.is_round else "loaf pan"
    pi = " (take π = 3.14)" if tin.is_round else ""
    draft = _draft(
        tin,
        f"A {shape} without a lid measures {tin.measures} inside. The loaf may dome "
        f"above the rim: the trade adds **{tin.size(tin.dome)}** to the depth for "
        f"that. How many {_cubic(tin)} is that in all{pi}? Take the walls as upright.",
        tin.usable,
    )
    _help_open(draft, tin)
    return draft


def _help_open(draft: Draft, tin: Tin) -> None:
    draft.hint("How high may the loaf stand, from the bottom to the top of its dome?")
    draft.hint(f"The height is {decimal(tin.depth)} + {decimal(tin.dome)} {tin.unit}.")
    draft.hint(f"Start with the bottom: {_area_text(tin)}.")
    _tell_box(draft, tin)
    _common_slips(draft, tin)
    draft.slip("forgot_dome", tin.usable / tin.height * tin.depth)
    other = Fraction(1) if tin.unit == "cm" else Fraction(5, 2)
    draft.slip(
        "mixed_units",
        tin.usable / tin.height * (tin.depth + other),
        f"You added {decimal(other)}: the rule is 2.5 cm or 1 inch. This pan is "
        f"measured in {_LENGTHS[tin.unit]}.",
    )
    if tin.is_round:
        draft.slip("diameter_as_radius", tin.usable * 4)
        draft.slip("round_as_square", tin.usable * 4 / PI)


def _tapered(tin: Tin) -> Draft:
    top, base = tin.length * tin.width, tin.base_length * tin.base_width
    middle = (tin.length + tin.base_length) * (tin.width + tin.base_width) / 4
    answer = tin.depth * (top + 4 * middle + base) / 6
    draft = _draft(
        tin,
        f"The walls of a loaf pan slope. Inside it measures {decimal(tin.length)} × "
        f"{decimal(tin.width)} {tin.unit} at the rim and {decimal(tin.base_length)} × "
        f"{decimal(tin.base_width)} {tin.unit} at the base, and it is "
        f"{tin.size(tin.depth)} deep. How many {_cubic(tin)} does it hold, **filled "
        "level to the rim**? Use: depth × (rim area + 4 × area at half height + base "
        "area) ÷ 6.",
        answer,
        bases_of=(tin.base_length, tin.base_width),
    )
    _help_tapered(draft, tin)
    return draft


def _help_tapered(draft: Draft, tin: Tin) -> None:
    top, base = tin.length * tin.width, tin.base_length * tin.base_width
    half = (tin.length + tin.base_length) / 2, (tin.width + tin.base_width) / 2
    middle, answer = half[0] * half[1], draft.number
    draft.hint("Three areas are needed: at the rim, at the base and half-way up.")
    draft.hint("Half-way up, length and width lie midway between rim and base.")
    draft.hint(f"At half height it measures {decimal(half[0])} × {decimal(half[1])}.")
    draft.tell(f"Rim: {_times(tin.length, tin.width)} = {decimal(top)}.")
    draft.tell(f"Half-way up: {_times(*half)} = {decimal(middle)}.")
    draft.tell(f"Base: {_times(tin.base_length, tin.base_width)} = {decimal(base)}.")
    draft.tell(
        f"{decimal(tin.depth)} × ({decimal(top)} + 4 × {decimal(middle)} + "
        f"{decimal(base)}) ÷ 6 = {worked(answer, tin.cubic, draft.step)}."
    )
    draft.slip("taper_forgotten", tin.depth * top)
    draft.slip("base_all_the_way", tin.depth * base)
    draft.slip(
        "middle_counted_once",
        tin.depth * (top + middle + base) / 6,
        "The area at half height counts four times in this rule, and the whole is "
        "divided by 6.",
    )
    draft.slip("wrong_divisor", tin.depth * (top + 4 * middle + base) / 3)
    draft.slip("forgot_depth", (top + 4 * middle + base) / 6)


def _draft(
    tin: Tin,
    question: str,
    answer: Fraction,
    *,
    bases_of: tuple[Fraction, ...] = (),
) -> Draft:
    step = Fraction(10) if tin.unit == "cm" else Fraction(1)
    rows = [("depth", tin.size(tin.depth))]
    if tin.is_round:
        rows.insert(0, ("diameter", tin.size(tin.length)))
    else:
        rows[:0] = [
            ("length at the rim", tin.size(tin.length)),
            ("width at the rim", tin.size(tin.width)),
        ]
    bases = ("length at the base", "width at the base")
    rows += [(n, tin.size(m)) for n, m in zip(bases, bases_of, strict=False)]
    if not tin.lidded and not bases_of:
        rows.append(("added for the dome", tin.size(tin.dome)))
    return Draft(
        question=f"{question} Round {step_text(step, tin.cubic)}.",
        given=rows,
        answer=answer,
        unit=tin.cubic,
        step=step,
        picture=side_views(
            [(tin.name, tin)],
            f"The {tin.name} from the side",
            dome=not bases_of,
        ),
    )


def _tell_box(draft: Draft, tin: Tin) -> None:
    area = tin.usable / tin.height
    draft.tell(f"The bottom: {_area_text(tin)} = {decimal(area)}.")
    height = decimal(tin.height)
    if not tin.lidded:
        height = f"({decimal(tin.depth)} + {decimal(tin.dome)})"
    draft.tell(
        f"Times the height: {decimal(area)} × {height} = "
        f"{worked(tin.usable, tin.cubic, draft.step)}."
    )


def _area_text(tin: Tin) -> str:
    if tin.is_round:
        return f"3.14 × {decimal(tin.length / 2)} × {decimal(tin.length / 2)}"
    return _times(tin.length, tin.width)


def _cubic(tin: Tin) -> str:
    return f"cubic {_LENGTHS[tin.unit]} ({tin.cubic})"


def _times(one: Fraction, other: Fraction) -> str:
    return f"{decimal(one)} × {decimal(other)}"


def _common_slips(draft: Draft, tin: Tin) -> None:
    draft.slip("forgot_depth", tin.usable / tin.height)
    if not tin.is_round:
        draft.slip("added_for_times", tin.length + tin.width + tin.height)
        draft.slip(
            "another_unit",
            tin.usable * CM_PER_IN**3 if tin.unit == "in" else tin.usable / 1000,
            f"The number is right in another unit. The question asks for {tin.cubic}.",
        )


_LENGTHS = {"cm": "centimetres", "in": "inches"}
