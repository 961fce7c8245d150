"""The drawings of a bake's page: stages by the clock, readings as curves."""

from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.facts import READINGS
from bakelab.charts.bake_curves import reading_curve
from bakelab.charts.timeline import timeline

if TYPE_CHECKING:
    from bakelab.bakebook import Bake

__all__ = ["bake_drawings"]

_LEAST_STAGES = 2


def bake_drawings(bake: "Bake", *, ink: str = "#000000") -> tuple[str, ...]:
    """SVG of the timeline, if there are stages, and of each kind of reading."""
    found = []
    stages = _stages(bake)
    if len(stages) >= _LEAST_STAGES:
        found.append(_svg(timeline(_frame(stages), ink=ink)))
    known = bake.readings.dropna(subset=["minute"])
    kinds = [kind for kind in READINGS if (known["kind"] == kind).any()]
    found += [_svg(reading_curve(known, kind, ink=ink)) for kind in kinds]
    return tuple(found)


def _stages(bake: "Bake") -> list[tuple[str, datetime, datetime]]:
    marks = sorted(bake.marks, key=lambda m: m.at)
    return [(a.what, a.at, b.at) for a, b in pairwise(marks)]


def _frame(stages: list[tuple[str, datetime, datetime]]) -> Any:
    """Stages as the timeline wants them, in local time, each row named once."""
    import pandas as pd

    return pd.DataFrame(
        {
            "what": [f"{n}  {what}" for n, (what, _, _) in enumerate(stages, 1)],
            "start": [_local(start) for _, start, _ in stages],
            "end": [_local(end) for _, _, end in stages],
            "minutes": [(b - a) / timedelta(minutes=1) for _, a, b in stages],
        }
    )


def _local(at: datetime) -> datetime:
    return at.astimezone().replace(tzinfo=None)


def _svg(chart: Any) -> str:
    import altair
    import vl_convert

    version = ".".join(altair.SCHEMA_VERSION.lstrip("v").split(".")[:2])
    return str(vl_convert.vegalite_to_svg(chart.to_json(), vl_version=version))
