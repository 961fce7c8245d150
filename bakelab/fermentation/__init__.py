"""Proof and cold: how fast yeast works, dough in a refrigerator, schedules."""

from bakelab.fermentation.chilling import CHILL_COLUMNS, Chilled, chill
from bakelab.fermentation.rate import (
    MODELS,
    EquivalentTime,
    RateModel,
    equivalent_time,
    relative_rate,
    slowing_remarks,
    yeast_for,
)
from bakelab.fermentation.schedule import (
    SCHEDULE_COLUMNS,
    Planned,
    Schedule,
    Stage,
    plan_back,
    to_icalendar,
)

__all__ = [
    "CHILL_COLUMNS",
    "MODELS",
    "SCHEDULE_COLUMNS",
    "Chilled",
    "EquivalentTime",
    "Planned",
    "RateModel",
    "Schedule",
    "Stage",
    "chill",
    "equivalent_time",
    "plan_back",
    "relative_rate",
    "slowing_remarks",
    "to_icalendar",
    "yeast_for",
]
