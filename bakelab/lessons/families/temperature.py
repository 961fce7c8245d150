"""Water for a wanted dough temperature, by the multiplication rule."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.pictures import bars

__all__ = ["water_temperature"]

_SOURCE = (
    "The rule: Wihlfahrt, A Treatise on Baking, “The Temperature of the Bread Dough”"
)
# Room, flour, dough and rise by kneading, in °C and °F; common practice, no source.
_RANGES = {
    "°C": {
        "dough": (24, 28), "room": (18, 28), "flour": (16, 26), "rise": (3, 12),
        "preferment": (18, 26),
    },
    "°F": {
        "dough": (75, 82), "room": (65, 84), "flour": (62, 80), "rise": (6, 22),
        "preferment": (64, 79),
    },
}  # fmt: skip
_WATER = {"°C": (4, 40), "°F": (40, 104)}


@dataclass(frozen=True)
class _Mix:
    """Temperatures of one mix, whole degrees; `rise` is that by kneading."""

    unit: str
    dough: int
    counted: dict[str, int]
    rise: int = 0

    @property
    def times(self) -> int:
        """How many temperatures count, the water among them."""
        return len(self.counted) + 1

    @property
    def water(self) -> int:
        return self.times * self.dough - sum(self.counted.values()) - self.rise

    @property
    def rows(self) -> list[tuple[str, str]]:
        known = {"dough": self.dough, **self.counted}
        known |= {"rise": self.rise} if self.rise else {}
        return [(_WORDS[name], f"{size} {self.unit}") for name, size in known.items()]


def water_temperature(draw: Draw, level: int) -> Draft:
    """Level 1 flour and room, 2 with the rise by kneading, 3 with a preferment."""
    mix = _mix(draw, level)
    draft = Draft(
        question=_question(mix),
        given=mix.rows,
        answer=Fraction(mix.water),
        unit=mix.unit,
        source=_SOURCE if level == 1 else "",
        picture=_picture(mix),
        caution=("Water that feels hot harms yeast: stay below about 43 °C (110 °F)."),
    )
    _help(draft, mix)
    _slips(draft, mix)
    return draft


def _picture(mix: _Mix) -> str:
    """Bars of all temperatures; the water's is asked for."""
    sizes = {**mix.counted, **({"rise": mix.rise} if mix.rise else {})}
    total = Fraction(mix.times * mix.dough)
    rows = [(f"{mix.times} × the dough", total, f"{mix.times} × {mix.dough}")]
    rows += [(_SHORT[n], Fraction(t), f"{t} {mix.unit}") for n, t in sizes.items()]
    rows.append(("water", Fraction(mix.water), ""))
    title = "All the parts together are as long as the first bar"
    return bars(rows, title=title, asked="water")


def _help(draft: Draft, mix: _Mix) -> None:
    names = ", ".join(_WORDS[name] for name in mix.counted)
    draft.hint(
        "All that goes in shares its warmth; the water makes up what is missing."
    )
    draft.hint(
        f"{mix.times} temperatures count: {names} and water. Their sum must be "
        f"{mix.times} times the temperature of the dough."
    )
    draft.hint(f"Start like this: {mix.times} × {mix.dough} {mix.unit}.")
    total = mix.times * mix.dough
    draft.tell(f"The sum that is wanted: {mix.times} × {mix.dough} = {total}.")
    known = [*mix.counted.values(), *([mix.rise] if mix.rise else [])]
    takes = "".join(f" − {size}" for size in known)
    draft.tell(f"Take away what is known: {total}{takes} = {mix.water} {mix.unit}.")


_PRINTED_ONE_IN = 8
_PRINTED = (
    _Mix("°F", 78, {"room": 85, "flour": 67}),
    _Mix("°F", 78, {"room": 72, "flour": 62}),
)
"""The two worked examples of the source of the rule."""

_SHORT = {
    "room": "room",
    "flour": "flour",
    "preferment": "ripe preferment",
    "rise": "rise by kneading",
}
_WORDS = {
    "dough": "wanted for the dough",
    "room": "room",
    "flour": "flour",
    "preferment": "ripe preferment",
    "rise": "rise by kneading (the number of your mixer for this rule)",
}


def _question(mix: _Mix) -> str:
    counted = {3: "flour, room and water", 4: "flour, room, preferment and water"}
    rule = f"the dough takes the mean of the temperatures of {counted[mix.times]}"
    if mix.rise:
        rule = (
            f"add the temperatures of {counted[mix.times]}, and the rise by kneading; "
            f"the sum is {mix.times} times the temperature of the dough"
        )
    return (
        f"Your dough should come out of mixing at **{mix.dough} {mix.unit}**. The rule "
        f"of the trade: {rule}. How warm must the **water** be? Give it in whole "
        f"{mix.unit}."
    )


def _mix(draw: Draw, level: int) -> _Mix:
    """Temperatures that leave sensible water; drawn again until they do."""
    if level == 1 and draw.yes(_PRINTED_ONE_IN):
        return draw.pick(_PRINTED)
    unit = draw.pick(("°C", "°F"))
    names, (low, high) = ["room", "flour"], _WATER[unit]
    if level == 3:
        names.append("preferment")
    while True:
        counted = {name: draw.whole(*_RANGES[unit][name]) for name in names}
        rise = draw.whole(*_RANGES[unit]["rise"]) if level > 1 else 0
        mix = _Mix(unit, draw.whole(*_RANGES[unit]["dough"]), counted, rise)
        if low <= mix.water <= high and mix.water != mix.dough:
            return mix


def _slips(draft: Draft, mix: _Mix) -> None:
    times, dough, rise = mix.times, mix.dough, mix.rise
    known = sum(mix.counted.values())
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
        f"The water counts as well: {times} temperatures, so {times} × {dough} "
        f"{mix.unit}.",
    )
    draft.slip(
        "mean_of_what_is_known",
        Fraction(round(Fraction(known + dough, times))),
        f"That is the mean of the numbers given. The mean is known, {dough} "
        f"{mix.unit}; the water is what is missing for it.",
    )
