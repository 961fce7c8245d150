"""What went wrong in the invented kitchen; each is a bake with its lesson."""

from datetime import datetime, timedelta

from bakelab.bakebook.demo.made import Wanted
from bakelab.bakebook.demo.truth import FIRST_DAY

__all__ = ["FAILURES"]

_LESSONS = {
    "forgotten salt": (
        "**Forgot the salt.** Found on tasting: flat, crust pale, dough slack and too "
        "fast. *From now on the salt is weighed into its own cup before the water.*"
    ),
    "underproofed": (
        "Went in 38 min early, the oven was needed. Tight crumb, a tear along the side."
    ),
    "overfilled": (
        "**Too much dough in the tin** (the sheet said 770 g): it ran over the edge "
        "and smoked on the floor of the oven. Oven off, left shut until it was cold. "
        "*Weigh the dough into the tin; a tray below.*"
    ),
    "overproofed": "Proof forgotten over a delivery: 70 min too long, sunk.",
    "underbaked": (
        "Taken out at 24 min by the colour of the crust. Core not done: gummy line "
        "above the base. **Not served.** Measure the core, not the colour."
    ),
}


def _day(number: int) -> datetime:
    return FIRST_DAY + timedelta(days=number, hours=4)


FAILURES: tuple[Wanted, ...] = (
    Wanted(
        "mill", _day(16), volume_cm3_g=4.75, loss_pct=12.3, taste=3.0,
        tags=("failure", "forgotten salt"), picture="pale, without salt", state="pale",
        notes=(_LESSONS["forgotten salt"],),
    ),
    Wanted(
        "whole", _day(40), dough_g=740.0, volume_cm3_g=2.5, loss_pct=10.6,
        late_min=-38.0, taste=4.0, crumb="whole", tags=("failure", "underproofed"),
        picture="tight crumb, torn side",
        notes=(_LESSONS["underproofed"],),
    ),
    Wanted(
        "milk", _day(92), dough_g=1020.0, volume_cm3_g=3.2, loss_pct=9.0,
        bake_min=38.0, taste=5.0, tags=("failure", "overfilled"), state="overfilled",
        picture="over the edge of the tin", facts={"planned_dough_g": 770.0},
        notes=(_LESSONS["overfilled"],),
    ),
    Wanted(
        "rye", _day(61), dough_g=718.0, volume_cm3_g=2.3, loss_pct=12.9, late_min=70.0,
        proof_min=90.0, bake_min=42.0, taste=4.0, crumb="rye",
        tags=("failure", "overproofed"), state="collapsed",
        picture="sunk in the middle",
        notes=(_LESSONS["overproofed"],),
    ),
    Wanted(
        "mill", _day(103), volume_cm3_g=4.15, loss_pct=8.9, bake_min=24.0, probe=True,
        taste=3.0, tags=("failure", "underbaked"), facts={"planned_bake_min": 34.0},
        notes=(_LESSONS["underbaked"],),
    ),
    Wanted(
        "mill", FIRST_DAY + timedelta(days=14, minutes=6), tags=("house loaf",),
        retired_why="entered twice", who="Orla",
    ),
)  # fmt: skip
"""In the order in which they draw on chance; the core's curve comes with the tin."""
