"""A bake as one page: what was done, what came out, pictures and notes."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.computed import COMPUTED
from bakelab.bakebook.facts import FACTS, FACTS_BY_NAME, GROUPS, Fact
from bakelab.charts.written import plain_number
from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.pans import Pan, pan
from bakelab.sheets.bake_drawings import bake_drawings
from bakelab.sheets.bake_entries import (
    Entry,
    computed_entries,
    off_plan,
    value_text,
    was_done,
)
from bakelab.sheets.bake_photos import photo_addresses
from bakelab.sheets.cautions import cautions as due_cautions
from bakelab.sheets.model import Big
from bakelab.sheets.notes import Block, note_blocks

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = [
    "BakePhoto",
    "BakeSheet",
    "bake_sheet",
    "baked_in",
]

_GROUP_NAMES = {
    "plan": "Pan and plan", "dough": "Dough", "oven": "Oven", "result": "Loaf",
}  # fmt: skip
_BIG = (
    ("loaf_out_g", "Loaf", 0),
    ("bake_loss_pct", "Bake loss", 1),
    ("specific_volume_cm3_g", "Specific volume", 2),
    ("taste_1_9", "Taste of 9", 0),
)
_MOST_PHOTOS = 6
_MOST_PANS = 100
_PLACES = 2
_COMPUTED = {fact.name: fact for fact in COMPUTED}
_WORDS = Fact("words", "Words", kind="text")


@dataclass(frozen=True)
class BakePhoto:
    """A picture as a data address, with its words."""

    address: str
    caption: str
    width: int
    height: int


@dataclass(frozen=True)
class BakeSheet:
    """A bake's page as text and drawings; `bake_html` and `bake_pdf` set it.

    `drawings` are SVG of ours: the timeline and the curves of the readings.
    """

    title: str
    subtitle: str
    numbers: tuple[Big, ...]
    weights: tuple[tuple[str, str, str], ...]
    dough_words: str
    stages: tuple[Entry, ...]
    groups: tuple[tuple[str, tuple[Entry, ...]], ...]
    computed: tuple[Entry, ...]
    off: tuple[Entry, ...]
    drawings: tuple[str, ...] = ()
    photos: tuple[BakePhoto, ...] = ()
    notes: tuple[tuple[str, tuple[Block, ...]], ...] = ()
    tags: tuple[str, ...] = ()
    corrections: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    made: str = ""

    def to_data(self) -> dict[str, Any]:
        """Plain data for the templates."""
        return asdict(self)


def bake_sheet(
    book: "BakeBook", bake_id: str, *, ink: str = "#000000", drawn: bool = True
) -> BakeSheet:
    """The page of a bake, from the book.

    Parameters
    ----------
    book : BakeBook
    bake_id : str
    ink : str
        Colour of the words in the drawings; "currentColor" follows a page.
    drawn : bool
        False leaves out the timeline and the curves, for a quick look.

    Raises
    ------
    UnknownEntryError
        If there is no such bake.
    """
    bake = book.bake(bake_id)
    corrections = tuple(_corrections(book.past(bake_id)))
    formula = _batch(bake)
    return BakeSheet(
        title=formula.title or "Bread",
        subtitle=_subtitle(bake),
        numbers=tuple(_numbers(bake)),
        weights=tuple(_weights(formula)),
        dough_words=_dough_words(formula),
        stages=tuple(_stages(bake)),
        groups=tuple(_groups(bake)),
        computed=computed_entries(bake),
        off=off_plan(bake.facts),
        drawings=bake_drawings(bake, ink=ink) if drawn else (),
        photos=tuple(_photos(bake)),
        notes=tuple((_moment(n.at), note_blocks(n.text)) for n in bake.notes),
        tags=tuple(bake.tags),
        corrections=corrections,
        cautions=due_cautions(formula, baked_in(bake)),
        made=f"bake {bake.id[:8]} · formula {bake.formula_key[:8]}",
    )


def baked_in(bake: "Bake") -> tuple[Pan, ...]:
    """The pans of a bake, each of them; none where no measures are known."""
    words, count = bake.facts.get("pan"), int(bake.facts.get("pan_count") or 1)
    try:
        return (pan(str(words)),) * min(count, _MOST_PANS) if words else ()
    except BakelabError:
        return ()


def _batch(bake: "Bake") -> Formula:
    factor = bake.facts.get("batch_factor") or 1
    return bake.formula if factor == 1 else bake.formula.scaled(float(factor))


def _subtitle(bake: "Bake") -> str:
    facts = bake.facts
    words = [_moment(bake.started_at), facts.get("pan"), facts.get("baker")]
    if bake.retired:
        words.append("retired")
    return " · ".join(str(w) for w in words if w)


def _numbers(bake: "Bake") -> Iterator[Big]:
    known = {**bake.facts, **bake.computed}
    for name, label, places in _BIG:
        value = known.get(name)
        if isinstance(value, int | float):
            fact = FACTS_BY_NAME.get(name) or _COMPUTED.get(name)
            unit = fact.unit if fact else ""
            yield Big(label, plain_number(float(value), places), unit)


def _weights(formula: Formula) -> Iterator[tuple[str, str, str]]:
    for row in formula.rows:
        places = 0 if row.mass_g >= 100 else 1
        pct = 100 * row.mass_g / formula.flour_g if formula.flour_g else 0.0
        yield row.label, plain_number(row.mass_g, places), plain_number(pct, 1)


def _dough_words(formula: Formula) -> str:
    if not formula.flour_g:
        return f"dough {plain_number(formula.dough_g, 0)} g"
    return (
        f"Dough {plain_number(formula.dough_g, 0)} g, true hydration "
        f"{plain_number(formula.hydration_pct, 1)} %, "
        f"salt {plain_number(formula.role_pct('salt'), 2)} %"
    )


def _stages(bake: "Bake") -> Iterator[Entry]:
    before: datetime | None = None
    for mark in sorted(bake.marks, key=lambda m: m.at):
        gap = "" if before is None else _gap((mark.at - before).total_seconds())
        yield Entry(f"{mark.at.astimezone():%H:%M}", mark.what, gap)
        before = mark.at


def _groups(bake: "Bake") -> Iterator[tuple[str, tuple[Entry, ...]]]:
    for group in GROUPS:
        entries = tuple(
            Entry(f.label, value_text(f, bake.facts[f.name]))
            for f in FACTS
            if f.group == group
            and bake.facts.get(f.name) is not None
            and not was_done(f.name, bake.facts)
        )
        if entries:
            yield _GROUP_NAMES[group], entries


def _corrections(past: Any) -> Iterator[str]:
    """Old values that were replaced; first entries are no corrections."""
    for row in past.itertuples():
        if row.old in (None, ""):
            continue
        fact = FACTS_BY_NAME.get(str(row.field))
        label = fact.label if fact else str(row.field)
        was, new = (value_text(fact or _WORDS, v) for v in (row.old, row.new or ""))
        now = f"now {new}" if new else "taken out"
        who = f", {row.who}" if row.who else ""
        yield f"{label}: was {was}, {now} ({_moment(row.at)}{who})"


def _photos(bake: "Bake") -> Iterator[BakePhoto]:
    for photo, address, size in photo_addresses(bake, most=_MOST_PHOTOS):
        yield BakePhoto(address, photo.caption or photo.name, *size)


def _moment(at: datetime) -> str:
    local = at.astimezone()
    return f"{local:%A} {local.day} {local:%B %Y, %H:%M}"


def _gap(seconds: float) -> str:
    minutes = seconds / 60
    return f"+{minutes:.0f} min" if minutes < 600 else f"+{minutes / 60:.1f} h"
