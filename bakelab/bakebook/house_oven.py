"""The house oven, learned from the bakes in the book that had a probe in the core."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.facts import FACTS_BY_NAME
from bakelab.errors import BakelabError, BookError
from bakelab.formula import Formula
from bakelab.oven import BakeEstimate, HouseHeating, Oven, estimate_bake, house_heating
from bakelab.oven import oven as read_oven
from bakelab.pans import Pan
from bakelab.units import Q_, Quantity

if TYPE_CHECKING:
    import pandas as pd

    from bakelab.bakebook.book import BakeBook
    from bakelab.bakebook.model import Bake

__all__ = ["HouseOven", "house_oven", "ovens_of"]

FEWEST_READINGS = 4
WORST_OFF_K = (
    8.0  # readings farther from the curve are of something else; our assumption
)
COLUMNS = ("id", "started_at", "pan", "heating", "off_k", "readings", "used", "why_not")


@dataclass(frozen=True)
class HouseOven:
    """How hard an oven of the house heats, and how far its dial is off.

    `heating` is the middle of the bakes (1 is the lab's starting value), `low` and
    `high` hold one more bake 19 times of 20; both are NaN after a single bake.
    `offset_k` is real less dial. `bakes` has a row for each bake that was looked at.
    """

    name: str
    heating: float
    low: float
    high: float
    offset_k: float
    bakes: pd.DataFrame
    remarks: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many bakes were used."""
        return int(self.bakes["used"].sum())

    @property
    def text(self) -> str:
        """What was learned, in words."""
        band = (
            f", one more bake between {self.low:.2f} and {self.high:.2f}"
            if math.isfinite(self.low)
            else ""
        )
        bakes = "1 bake" if self.count == 1 else f"{self.count} bakes"
        said = (
            f"{self.name or 'the oven'}: heating {self.heating:.2f}{band}, from "
            f"{bakes} with a probe; it is {abs(self.offset_k):.0f} K "
            f"{'above' if self.offset_k >= 0 else 'below'} its dial"
        )
        return "; ".join([said, *self.remarks])

    def setting(self, dial: Oven | Quantity | str) -> Oven:
        """What the oven really does at a setting of its dial."""
        asked = read_oven(dial)
        return asked.at(asked.air_c + self.offset_k)

    def estimate(
        self,
        formula: Formula,
        from_pan: Pan | str,
        to_pan: Pan | str,
        *,
        dial: Oven | Quantity | str | None = None,
        **options: Any,
    ) -> BakeEstimate:
        """`estimate_bake` in this oven: its own heat counts, not the recipe's time."""
        return estimate_bake(
            formula,
            from_pan,
            to_pan,
            oven=self.setting(formula.oven if dial is None else dial),
            heating=self.heating,
            **options,
        )


def ovens_of(book: BakeBook) -> tuple[str, ...]:
    """Names of the ovens that bakes of the book were made in, most used first."""
    counts = book.bakes()["oven"].replace("", None).dropna().value_counts()
    return tuple(str(name) for name in counts.index)


def house_oven(book: BakeBook, name: str = "", *, newest: int = 12) -> HouseOven:
    """Learn an oven from the newest bakes with a probe in the core.

    Parameters
    ----------
    book : BakeBook
    name : str
        The oven, as it is written of the bakes; the most used by default.
    newest : int
        At most so many bakes; each takes about half a second.

    Raises
    ------
    BookError
        If no bake in that oven has readings that can be used.

    Notes
    -----
    Each bake gives the heating that brings the model's core closest to its
    readings, see :func:`bakelab.oven.house_heating`. The oven's real temperature is
    the measured one, else the dial and the offset of the house's oven. Bakes are
    put together by the logarithm of their heating. A bake whose readings lie more
    than 8 K from every curve is left out, and said.
    """
    frame = book.bakes()
    known = ovens_of(book)
    chosen = name or (known[0] if known else "")
    if name and name not in known:
        raise BookError(
            f"no bake was made in an oven called {name!r}; use one of "
            f"{', '.join(known) or '(none is written yet)'}"
        )
    frame = frame[frame["oven"] == chosen]
    offset_k, remarks = _offset(book, chosen, frame)
    rows: list[dict[str, Any]] = []
    for bake_id in frame["id"]:
        bake = book.bake(str(bake_id))
        if (bake.readings["kind"] == "core_c").sum() >= FEWEST_READINGS:
            rows.append(_learned(bake, offset_k))
        if sum(row["used"] for row in rows) >= newest:
            break
    return _together(chosen, offset_k, rows, remarks)


def _offset(
    book: BakeBook, name: str, frame: pd.DataFrame
) -> tuple[float, tuple[str, ...]]:
    """Real less dial: as measured in the bakes, else as the house says."""
    differences = (frame["oven_real_c"] - frame["oven_set_c"]).dropna()
    if len(differences):
        return float(differences.median()), ()
    house = book.house("oven")
    own = house.loc[house["name"] == name, "offset_c"].dropna()
    if len(own):
        return float(own.iloc[-1]), ("its offset is the one written of the house",)
    return 0.0, ("nobody measured the oven, so its dial is taken as right",)


def _learned(bake: Bake, offset_k: float) -> dict[str, Any]:
    row: dict[str, Any] = {
        "id": bake.id,
        "started_at": bake.started_at,
        "pan": bake.facts.get("pan", ""),
        "heating": math.nan,
        "off_k": math.nan,
        "readings": 0,
        "used": False,
        "why_not": _lacks(bake.facts),
    }
    if row["why_not"]:
        return row
    try:
        found = _heating(bake, offset_k)
    except BakelabError as error:
        return {**row, "why_not": str(error)}
    why = "no strength of heating fits" if found.at_edge else ""
    if found.off_k > WORST_OFF_K:
        why = f"its readings lie {found.off_k:.0f} K from the curve"
    told = {"heating": found.heating, "off_k": found.off_k, "readings": found.readings}
    return {**row, **told, "used": not why, "why_not": why}


def _heating(bake: Bake, offset_k: float) -> HouseHeating:
    return house_heating(
        bake.formula,
        str(bake.facts["pan"]),
        [(Q_(minute, "minute"), Q_(core, "degC")) for minute, core in _core(bake)],
        oven=Q_(_real_c(bake.facts, offset_k), "degC"),
        dough=Q_(float(bake.facts["dough_in_g"]), "g"),
    )


def _lacks(facts: Mapping[str, Any]) -> str:
    for name in ("pan", "dough_in_g"):
        if not facts.get(name):
            return f"nothing is written as {FACTS_BY_NAME[name].label.lower()}"
    if not (facts.get("oven_real_c") or facts.get("oven_set_c")):
        return "nothing is written of the oven's temperature"
    return "a lid was on" if facts.get("lid") else ""


def _core(bake: Bake) -> list[tuple[float, float]]:
    """Readings while the loaf was in the oven."""
    core = bake.readings[bake.readings["kind"] == "core_c"]
    last = float(bake.facts.get("bake_min") or math.inf)
    inside = core[(core["minute"] >= 0) & (core["minute"] <= last + 0.5)]
    return [(float(m), float(v)) for m, v in inside[["minute", "value"]].to_numpy()]


def _real_c(facts: Mapping[str, Any], offset_k: float) -> float:
    measured = facts.get("oven_real_c")
    return float(measured) if measured else float(facts["oven_set_c"]) + offset_k


def _together(
    name: str, offset_k: float, rows: list[dict[str, Any]], remarks: tuple[str, ...]
) -> HouseOven:
    import pandas as pd

    bakes = pd.DataFrame(rows, columns=list(COLUMNS))
    used = bakes[bakes["used"].astype(bool)]
    if used.empty:
        raise BookError(_not_yet(name, rows))
    logs = [math.log(heating) for heating in used["heating"]]
    middle = math.fsum(logs) / len(logs)
    half = _one_more(logs, middle)
    out = bakes.loc[~bakes["used"].astype(bool), "why_not"].value_counts()
    remarks += tuple(f"{count} left out: {why}" for why, count in out.items())
    return HouseOven(
        name,
        math.exp(middle),
        math.exp(middle - half),
        math.exp(middle + half),
        offset_k,
        bakes.astype({"used": bool}),
        remarks,
    )


def _not_yet(name: str, rows: list[dict[str, Any]]) -> str:
    why = next((row["why_not"] for row in rows), "no bake has 4 readings of the core")
    return (
        f"{name or 'the oven'} cannot be learned yet ({why}); put a probe into the "
        "core of a loaf and write its readings, pan, dough and oven setting"
    )


def _one_more(logs: list[float], middle: float) -> float:
    """Half of the interval of one more bake (Student), NaN after a single one."""
    count = len(logs)
    if count < 2:
        return math.nan
    # scipy comes without type hints, and is imported only when it is needed.
    from scipy.special import stdtrit  # type: ignore[import-untyped]

    spread = math.sqrt(math.fsum((x - middle) ** 2 for x in logs) / (count - 1))
    return float(stdtrit(count - 1, 0.975)) * spread * math.sqrt(1 + 1 / count)
