"""The two ways to fit to pans: by volume, and by dough loading."""

from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.errors import FitError, PanError
from bakelab.formula import Formula
from bakelab.pans import Pan, pan
from bakelab.scaling.fitted import LoafChange, Portion
from bakelab.scaling.loading import (
    Loading,
    StyleChoice,
    choose_style,
    loading_for,
    loading_note,
    loading_working,
    no_loading,
    too_little,
    too_much,
)
from bakelab.scaling.loaf import loaf_changes, loaf_remark
from bakelab.scaling.room import (
    Room,
    box_note,
    dome_note,
    name_of,
    one_dome_unit,
    read_pans,
    room_of,
    total_usable,
    total_volume,
    volume_working,
)
from bakelab.scaling.words import grams

__all__ = ["PanFit", "fit_pans", "known_from_pan"]

DISAGREE = 0.10  # our own: two ways further apart get a sentence


@dataclass(frozen=True)
class PanFit:
    """A factor to pans with all that was found on the way."""

    factor: float
    by: str
    other_way: float | None
    working: tuple[str, ...]
    remarks: tuple[str, ...]
    portions: tuple[Portion, ...]
    from_pan: Pan | None
    to_pans: tuple[Pan, ...]
    loading_cm3_g: float
    style: str
    dome: str | None
    changes: tuple[LoafChange, ...]


@dataclass(frozen=True)
class _Job:
    """The formula, the rooms, and the factors by both ways (None: impossible)."""

    formula: Formula
    old: Room | None
    rooms: Sequence[Room]
    by: str
    choice: StyleChoice | None
    volume: float | None
    loading: float | None
    loadings: tuple[Loading, ...]

    @property
    def chosen(self) -> float | None:
        return self.volume if self.by == "volume" else self.loading

    @property
    def other(self) -> float | None:
        return self.loading if self.by == "volume" else self.volume

    @property
    def lidded(self) -> bool:
        return any(room.pan.lidded for room in self.rooms)


def fit_pans(
    formula: Formula,
    pans: Sequence[Pan],
    *,
    from_: Pan | str | None,
    by: str,
    dome: str | None,
    style: str | None,
) -> PanFit:
    """Factor, portions, working and remarks for pans that have a volume.

    Raises
    ------
    FitError
        If the way asked for is not possible.
    """
    old_pan = known_from_pan(formula, from_)
    old, rooms = _rooms(old_pan, pans, dome)
    job = _job(formula, old, rooms, by=by, choice=choose_style(formula, style))
    factor = job.chosen
    if factor is None:
        refusal = _no_volume(formula, old_pan)
        raise no_loading(job.choice) if by == "loading" else refusal
    portions = _portions(job, factor)
    changes = loaf_changes(old, rooms) if old else ()
    return PanFit(
        factor,
        by,
        job.other,
        _working(job, dome),
        _remarks(job, portions, changes),
        portions,
        old_pan,
        tuple(pans),
        total_volume(rooms) / (formula.dough_g * factor),
        job.choice.style if job.choice else "",
        dome,
        changes,
    )


def known_from_pan(formula: Formula, from_: Pan | str | None) -> Pan | None:
    """The pan that a recipe was meant for, or None where it cannot be known."""
    if from_ is not None:
        return read_pans(from_)[0]
    if not formula.stated_pan:
        return None
    try:
        return pan(formula.stated_pan)
    except PanError:
        return None


def _rooms(
    old: Pan | None, pans: Sequence[Pan], dome: str | None
) -> tuple[Room | None, list[Room]]:
    with_volume = [p for p in (old, *pans) if p is not None and p.has_volume]
    rooms = [room_of(p, dome) for p in one_dome_unit(with_volume)]
    if len(with_volume) == len(pans):
        return None, rooms
    return rooms[0], rooms[1:]


def _job(
    formula: Formula,
    old: Room | None,
    rooms: Sequence[Room],
    *,
    by: str,
    choice: StyleChoice | None,
) -> _Job:
    by_volume = total_usable(rooms) / total_usable([old]) if old else None
    found = [loading_for(choice.style, room) for room in rooms] if choice else []
    loadings = tuple(usual for usual in found if usual is not None)
    if not loadings or len(loadings) < len(rooms):
        return _Job(formula, old, rooms, by, choice, by_volume, None, ())
    dough = sum(
        room.count * room.volume_cm3 / usual.middle
        for room, usual in zip(rooms, loadings, strict=True)
    )
    by_loading = dough / formula.dough_g
    return _Job(formula, old, rooms, by, choice, by_volume, by_loading, loadings)


def _no_volume(formula: Formula, old: Pan | None) -> FitError:
    if old is not None:
        return FitError(
            "the recipe's loaf stands free and has no volume; fit with by='loading', "
            "or to a dough mass"
        )
    if formula.stated_pan:
        return FitError(
            f"the recipe's pan {formula.stated_pan[:60]!r} cannot be read; give from_, "
            "such as from_='loaf 9 x 5 x 3 in', or fit with by='loading'"
        )
    return FitError(
        "the recipe names no pan; give from_, such as from_='loaf 9 x 5 x 3 in', "
        "or fit with by='loading', which needs none"
    )


def _portions(job: _Job, factor: float) -> tuple[Portion, ...]:
    if job.by == "loading":
        each = [
            room.volume_cm3 / usual.middle
            for room, usual in zip(job.rooms, job.loadings, strict=True)
        ]
    else:
        per_cm3 = job.formula.dough_g * factor / total_usable(job.rooms)
        each = [room.usable_cm3 * per_cm3 for room in job.rooms]
    return tuple(
        Portion(name_of(room.pan), room.count, mass_g, room.volume_cm3 / mass_g)
        for room, mass_g in zip(job.rooms, each, strict=True)
    )


def _working(job: _Job, dome: str | None) -> tuple[str, ...]:
    old, rooms = job.old, job.rooms
    if job.by == "volume" and old is not None:
        lines = volume_working(old, rooms)
        notes = [box_note(room) for room in (old, *rooms)]
        notes.append(dome_note(old, rooms, dome))
        return (*lines, *(note for note in notes if note))
    factor = job.loading or 0.0
    dough = job.formula.dough_g * factor
    ratio = f"Ratio: {grams(dough)} / {grams(job.formula.dough_g)} = {factor:.4f}."
    return (*loading_working(rooms, job.loadings), ratio)


def _remarks(
    job: _Job, portions: Sequence[Portion], changes: Sequence[LoafChange]
) -> tuple[str, ...]:
    remarks = [_two_ways(job)]
    for portion, room, usual in zip(portions, job.rooms, job.loadings, strict=False):
        loading = room.volume_cm3 / portion.dough_g
        remarks.append(loading_note(room, loading, usual))
    if job.choice and job.loadings:
        remarks.append(job.choice.note)
    if job.lidded:
        remarks.append(
            "Caution: a hot lidded pan lets out steam; open it away from you, and "
            "never fill it above the usual."
        )
    known = [room for room in (job.old, *job.rooms) if room is not None]
    remarks += [
        f"{name_of(room.pan)}: {note}."
        for room in known
        for note in room.pan.assumed_notes
    ]
    if changes:
        remarks.append(loaf_remark(changes))
    return tuple(dict.fromkeys(remark for remark in remarks if remark))


def _two_ways(job: _Job) -> str:
    if job.volume is None or job.loading is None:
        return ""
    doughs = [job.formula.dough_g * factor for factor in (job.volume, job.loading)]
    text = (
        f"Both ways: by volume {job.volume:.4f} ({grams(doughs[0])} of dough), "
        f"by usual loading {job.loading:.4f} ({grams(doughs[1])})"
    )
    ratio = job.volume / job.loading
    names = ("by volume", "by loading")
    if job.by == "loading":
        ratio, names = 1 / ratio, names[::-1]
    if abs(ratio - 1) <= DISAGREE:
        return f"{text}."
    effect = too_much if ratio > 1 else too_little
    return (
        f"{text}; {names[0]} gives {abs(100 * (ratio - 1)):.0f} % "
        f"{'more' if ratio > 1 else 'less'} dough. If {names[1]} is right for "
        f"this bread, {effect(lidded=job.lidded)}."
    )
