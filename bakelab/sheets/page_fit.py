"""How large the type of an HTML sheet may be so that it prints on one page.

A browser does not tell Python how high its lines come out, so the height is
reckoned from the number of characters. The page is the smaller of A4 and US
Letter in each direction; the reckoning is generous, and a test prints sheets in
a real browser.
"""

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from bakelab.sheets.model import Sheet, SheetStage, halves, two_columns

__all__ = ["PageFit", "page_fit"]

PAGE_WIDTH_MM = 186.0  # A4 less 12 mm on each side
PAGE_HEIGHT_MM = 255.4  # US Letter less 12 mm above and below
_GUTTER_MM = 9.0
_MM_PER_PT = 25.4 / 72
_CHARACTER_EM = 0.42
_LINE_EM = 1.24
_NOTE_MM = 8.0
_SPARE = 0.97
_DENSE_SCALE = 0.7
_DRAWING_MM = 76.0
_VIEW_BOX = re.compile(r'viewBox="0 0 (\d+) (\d+)"')
_LARGE = ((False, 1.1, 7), (False, 1.0, 4), (False, 0.95, 3))
_SMALL = (0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)
_FEW_ROWS = 16
_BOOSTS = (1.4, 1.3, 1.2, 1.1)
_LARGEST = 1.35


@dataclass(frozen=True)
class PageFit:
    """Type size as a share of 10 pt, arrangement, and ruled lines for notes.

    `boost` is how much larger the weights are set where they are few.
    """

    scale: float
    wide: bool
    note_lines: int
    boost: float = 1.0

    @property
    def dense(self) -> bool:
        """Whether the rows of the table stand closer."""
        return self.scale <= _DENSE_SCALE


def page_fit(sheet: Sheet) -> PageFit:
    """The largest type and the notes that leave a sheet on one printed page."""

    def fits(wide: bool, scale: float, lines: int, boost: float = 1.0) -> bool:
        room = PAGE_HEIGHT_MM * _SPARE
        return _height_mm(sheet, wide, scale, lines, boost) <= room

    tries = list(_tries(sheet.rows))
    wide, scale, lines = next((t for t in tries if fits(*t)), tries[-1])
    grown = (
        more
        for more in _BOOSTS
        if not wide
        and scale * more < _LARGEST
        and fits(wide, scale, max(lines, 4), more)
    )
    boost = next(grown, 1.0)
    most = next((n for n in range(24, 0, -1) if fits(wide, scale, n, boost)), 0)
    return PageFit(scale, wide, most, boost)


def _tries(rows: int) -> Iterator[tuple[bool, float, int]]:
    """Wide or not, type size, lines of notes to leave; the best first."""
    yield from _LARGE
    if rows <= _FEW_ROWS:
        yield from ((False, scale, 0) for scale in _SMALL if scale >= _DENSE_SCALE)
        yield from ((True, scale, 0) for scale in _SMALL)
    else:
        yield from ((wide, scale, 0) for scale in _SMALL for wide in (True, False))


def _is_dense(em: float) -> bool:
    """Whether type of `em` millimetres is small enough for closer rows."""
    return em <= 10 * _DENSE_SCALE * _MM_PER_PT + 1e-9


def _height_mm(
    sheet: Sheet, wide: bool, scale: float, note_lines: int, boost: float = 1.0
) -> float:
    em = 10 * scale * _MM_PER_PT
    notes = note_lines * _NOTE_MM + 3 * em if note_lines else 0.0
    frame = em * (_head(sheet, em) + _care(sheet, em) + 2.4)
    if wide:
        return frame + _wide(sheet, em, notes)
    return frame + _tall(sheet, em, notes, boost)


def _head(sheet: Sheet, em: float) -> float:
    room = PAGE_WIDTH_MM / em * 0.62
    title = _lines(sheet.title, room / 2) * 2.2
    return max(title + _lines(sheet.fitted_to, room / 1.1) * 1.5, 3.9) + 1.1


def _care(sheet: Sheet, em: float) -> float:
    if not sheet.cautions:
        return 0.0
    room = (PAGE_WIDTH_MM - _GUTTER_MM - 7) / 2 / em / 0.86
    columns = (
        sum(_lines(t, room) * _LINE_EM * 0.86 + 0.3 for t in column)
        for column in two_columns(sheet.cautions)
    )
    return max(columns) + 2.5


def _tall(sheet: Sheet, em: float, notes_mm: float, boost: float) -> float:
    left = (PAGE_WIDTH_MM - _GUTTER_MM) * 0.6
    right = PAGE_WIDTH_MM - _GUTTER_MM - left
    large = em * boost
    table = _table(sheet.stages, left / large, dense=_is_dense(em))
    weights = large * (table + 3.8) + notes_mm
    reading = _drawing_mm(sheet, right) + em * _reading(_all_parts(sheet), right / em)
    return max(weights, reading)


def _wide(sheet: Sheet, em: float, notes_mm: float) -> float:
    half = (PAGE_WIDTH_MM - _GUTTER_MM) / 2
    table = max(
        _table(part, half / em, dense=_is_dense(em)) for part in halves(sheet.stages)
    )
    left = _reading((sheet.pans, sheet.oven, sheet.assumptions), half / em)
    right = _reading((sheet.working, sheet.remarks, sheet.as_written), half / em)
    below = max(_drawing_mm(sheet, half) + em * left, em * right + notes_mm)
    return em * (table + 3.8) + below


def _all_parts(sheet: Sheet) -> tuple[Sequence[str], ...]:
    return (
        sheet.pans,
        sheet.oven,
        sheet.working,
        sheet.remarks,
        sheet.assumptions,
        sheet.as_written,
    )


def _table(
    stages: Iterable[SheetStage], width_em: float, *, dense: bool = False
) -> float:
    height, pad = 1.9, 0.45 if dense else 0.7
    for stage in stages:
        height += 2.3 if stage.name else 0.0
        for line in stage.lines:
            room = (width_em - 6.0 - 0.9 * len(line.weigh)) / 1.1
            label = 1.1 * _LINE_EM * _lines(line.label, room)
            note = 0.8 * _LINE_EM * _lines(line.note, room / 0.72)
            height += max(1.7, label + note) + pad
    return height


def _reading(parts: Iterable[Sequence[str]], width_em: float) -> float:
    """Height in em of heads and paragraphs in a column."""
    height = 0.0
    for items in parts:
        height += 2.3 if items else 0.0
        height += sum(
            0.9 * _LINE_EM * _lines(item, (width_em - 1.0) / 0.9) + 0.3
            for item in items
        )
    return height


def _lines(text: str, width_em: float) -> int:
    return math.ceil(_CHARACTER_EM * len(text) / max(width_em, 4.0))


def _drawing_mm(sheet: Sheet, width_mm: float) -> float:
    found = _VIEW_BOX.search(sheet.drawing)
    if not found:
        return 0.0
    return min(width_mm, _DRAWING_MM) * float(found[2]) / float(found[1]) + 3
