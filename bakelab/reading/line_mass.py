"""The mass of one line, and what two statements of it disagree on."""

from dataclasses import dataclass, field, replace

from bakelab.ingredients import (
    ingredient,
)
from bakelab.reading.amounts import Amount
from bakelab.reading.phrase import Phrase
from bakelab.reading.weights import (
    DIPPED,
    Market,
    Weighed,
    disagreement,
    stated_grams,
    unit_ml,
    weigh,
)

__all__ = ["Notes", "mass_of"]


@dataclass
class Notes:
    """Doubts and plain remarks gathered while a line is read."""

    doubts: list[str] = field(default_factory=list)
    plain: list[str] = field(default_factory=list)

    def text(self) -> str:
        return "; ".join((*self.doubts, *self.plain))


def mass_of(
    phrase: Phrase, key: str | None, market: Market, notes: Notes
) -> tuple[Weighed | None, float | None]:
    """The mass used and the mass stated; disagreements go to the notes."""
    if phrase.amount is None:
        return None, None
    given = (phrase.amount, *phrase.same)
    stated = stated_grams(given)
    main = weigh(phrase.amount, key, market, each=phrase.each)
    if phrase.each is not None and main is not None and main.basis == "stated":
        return main, main.mid_g
    if stated is None:
        _compare_volumes(given, market, notes)
        return main or _first_weighed(phrase, key, market), None
    for other in given:
        if not other.is_mass or abs(_mid_g(other) - stated) > 1e-9:
            _compare(stated, other, key, market, notes)
    low, high = _stated_band(given, stated)
    return Weighed(low, stated, high, "stated"), stated


def _first_weighed(phrase: Phrase, key: str | None, market: Market) -> Weighed | None:
    return next(
        (w for a in phrase.same if (w := weigh(a, key, market)) is not None), None
    )


def _mid_g(amount: Amount) -> float:
    return stated_grams([amount]) or 0.0


def _stated_band(given: tuple[Amount, ...], stated: float) -> tuple[float, float]:
    first = next(a for a in given if a.is_mass)
    spread = float(first.high / first.low) if first.low else 1.0
    return stated * 2 / (1 + spread), stated * 2 * spread / (1 + spread)


def _compare(
    stated: float, other: Amount, key: str | None, market: Market, notes: Notes
) -> None:
    weighed = weigh(other, key, market)
    pieces = other.kind in ("count", "part") and other.unit != "stick"
    if weighed is None or pieces:
        return
    if other.kind == "volume" and key is not None and ingredient(key).role == "flour":
        weighed = replace(weighed, high_g=weighed.high_g * DIPPED)
    digits = 0.03 if other.is_mass else 0.1
    small = 0.5 if stated < 20 else 0.0
    if abs(stated - weighed.mid_g) <= small + 0.5:
        return
    sentence = disagreement(stated, weighed, digits=digits + small / max(stated, 1))
    if sentence:
        notes.doubts.append(sentence)


def _compare_volumes(given: tuple[Amount, ...], market: Market, notes: Notes) -> None:
    """Two volumes of one amount that differ by more than rounding explains."""
    sizes = [
        float(a.high) * unit_ml(a.unit, market)
        for a in given
        if a.unit is not None and a.kind == "volume"
    ]
    if len(sizes) > 1 and max(sizes) > 1.25 * min(sizes):
        notes.doubts.append(
            f"two amounts disagree: about {sizes[0]:.0f} ml and {sizes[1]:.0f} ml"
        )
