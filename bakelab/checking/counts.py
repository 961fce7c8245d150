"""Weight against number on one line: eggs, packets, cakes and sticks."""

from collections.abc import Iterator

from bakelab.checking.case import Case, Entry, Stated
from bakelab.checking.model import Finding
from bakelab.checking.printed import Interval
from bakelab.kitchen import grams_per
from bakelab.reading.weights import weigh

__all__ = ["find_counts"]


def find_counts(case: Case) -> Iterator[Finding]:
    """Findings `weight-against-count`: eggs, packets, sticks and their weight."""
    for entry in case.dough:
        counted = [s for s in entry.stated if s.kind in ("count", "part")]
        if not counted or not entry.masses or entry.phrase.each is not None:
            continue
        if entry.line.role not in ("egg", "yeast", "fat"):
            continue
        found = _count(case, entry, counted[0], entry.masses[0])
        if found is not None:
            yield found


def _count(case: Case, entry: Entry, count: Stated, mass: Stated) -> Finding | None:
    band = _pieces(case, entry, count)
    if band is None:
        return None
    stated = mass.grams()
    gap = stated.gap(band)
    if gap <= 1.05:
        return None
    return Finding(
        "weight-against-count",
        "conflict" if gap > 1.5 and entry.line.role != "yeast" else "unlikely",
        f"{entry.name}: {mass.printed} does not belong to {count.printed}",
        (entry.quote,),
        (f"{mass.printed} stands for {stated.text('g')}",
         f"{count.printed} of {entry.name} is usually {band.text('g')}"),
        "Correct one of the two; where the weight counts, keep the grams.",
        "medium",
        "USDA SR26 for eggs without shell (01123), packets of yeast (18375) and "
        "sticks of butter (01145)",
    )  # fmt: skip


def _pieces(case: Case, entry: Entry, count: Stated) -> Interval | None:
    key, unit = entry.line.ingredient, count.amount.unit
    low, high = float(count.amount.low), float(count.amount.high)
    if unit in (None, "piece") and entry.line.role == "egg":
        sizes = [grams_per(key, size) for size in ("small", "jumbo")]
        if not all(sizes):
            return None
        # A shell is about a ninth of an egg; some weigh eggs in it. Common practice.
        small, jumbo = (s.mid_g for s in sizes if s is not None)
        return Interval(low * small, high * jumbo * 1.13)
    usual = weigh(count.amount, key, case.market)
    if usual is None or unit not in ("packet", "cake", "stick"):
        return None
    loose = (0.8, 1.7) if unit == "packet" else (0.9, 3.0 if unit == "cake" else 1.1)
    return Interval(usual.low_g * loose[0], usual.high_g * loose[1])
