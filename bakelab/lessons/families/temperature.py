"""Water for a wanted dough temperature, by the multiplication rule."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw

__all__ = ["water_temperature"]

_SOURCE = (
    "The rule: Wihlfahrt, A Treatise on Baking, “The Temperature of the Bread Dough”"
)
# Room, flour, dough and rise by kneading, in °C and °F; common practice, no source.
_RANGES = {
    "°C": {"dough": (24, 28), "room": (18, 28), "flour": (16, 26), "rise": (3, 12)},
    "°F": {"dough": (75, 82), "room": (65, 84), "flour": (62, 80), "rise": (6, 22)},
}
_PREFERMENT = {"°C": (18, 26), "°F": (64, 79)}
_WATER = {"°C": (4, 40), "°F": (40, 104)}


def water_temperature(draw: Draw, level: int) -> Draft:
    """Level 1 flour and room, 2 with the rise by kneading, 3 with a preferment."""
    unit = draw.pick(("°C", "°F"))
    known = _temperatures(draw, unit, level)
    dough, rise = known["dough"], known.get("rise", 0)
    others = [known[name] for name in ("room", "flour", "preferment") if name in known]
    times = len(others) + 1
    total = times * dough
    answer = total - sum(others) - rise
    draft = Draft(
        question=_question(unit, dough, times, rise=bool(rise)),
        given=tuple((_WORDS[n], f"{t} {unit}") for n, t in known.items()),
        answer=Fraction(answer),
        unit=unit,
        source=_SOURCE if level == 1 else "",
        caution=(
            "Water much hotter than a warm bath harms yeast: stay below about 43 °C "
            "(110 °F)."
        ),
    )
    names = [_WORDS[n] for n in known if n in ("room", "flour", "preferment")]
    draft.hint("All that goes in shares its warmth; the water makes up the rest.")
    draft.hint(
        f"{times} temperatures count: {', '.join(names)} and water. Their sum must be "
        f"{times} times the dough's."
    )
    draft.hint(f"Start so: {times} × {dough} {unit}.")
    draft.tell(f"The sum that is wanted: {times} × {dough} = {total}.")
    takes = "".join(f" − {t}" for t in (*others, *((rise,) if rise else ())))
    draft.tell(f"What is known is taken away: {total}{takes} = {answer} {unit}.")
    _slips(draft, unit, dough, others, rise)
    return draft


_WORDS = {
    "dough": "wanted for the dough",
    "room": "room",
    "flour": "flour",
    "preferment": "ripe preferment",
    "rise": "rise by kneading, as your mixer counts in this rule",
}


def _question(unit: str, dough: int, times: int, *, rise: bool) -> str:
    counted = {3: "flour, room and water", 4: "flour, room, preferment and water"}
    plain = f"the mean of {counted[times]} is the temperature of the dough"
    warmed = (
        f"the temperatures of {counted[times]}, and the rise by kneading on top, make "
        f"as many times the dough's as there are temperatures, {times} times"
    )
    return (
        f"Your dough should come out of mixing at **{dough} {unit}**. The rule of the "
        f"trade: {warmed if rise else plain}. How warm must the **water** be? Give it "
        f"in whole {unit}."
    )


def _temperatures(draw: Draw, unit: str, level: int) -> dict[str, int]:
    """Temperatures that leave sensible water; drawn again until they do."""
    low, high = _WATER[unit]
    while True:
        known = {n: draw.whole(*_RANGES[unit][n]) for n in ("dough", "room", "flour")}
        if level == 3:
            known["preferment"] = draw.whole(*_PREFERMENT[unit])
        if level > 1:
            known["rise"] = draw.whole(*_RANGES[unit]["rise"])
        rise = known.get("rise", 0)
        counted = [t for n, t in known.items() if n not in ("dough", "rise")]
        water = (len(counted) + 1) * known["dough"] - sum(counted) - rise
        if low <= water <= high and water != known["dough"]:
            return known


def _slips(draft: Draft, unit: str, dough: int, others: list[int], rise: int) -> None:
    times, known = len(others) + 1, sum(others)
    if rise:
        draft.slip("friction_forgotten", Fraction(times * dough - known))
        draft.slip("friction_added", Fraction(times * dough - known + rise))
        draft.slip(
            "wrong_multiple",
            Fraction((times + 1) * dough - known - rise),
            "Kneading is not one of the temperatures: it is a rise. Count only "
            f"{times} temperatures, the water among them.",
        )
    draft.slip("water_as_warm_as_dough", Fraction(dough))
    draft.slip(
        "wrong_multiple",
        Fraction((times - 1) * dough - known - rise),
        f"The water counts as well: {times} temperatures, so {times} × {dough} {unit}.",
    )
    mean = Fraction(known + dough, times)
    draft.slip(
        "mean_of_what_is_known",
        mean if mean.denominator == 1 else Fraction(round(mean)),
        f"That is the mean of the numbers given. The mean is known, {dough} {unit}; "
        f"the water is looked for. Mean times {times} is the sum. Start from there.",
    )
    draft.slip("wrong_multiple", Fraction(2 * dough) - Fraction(known, len(others)))
