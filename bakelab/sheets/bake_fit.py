"""How large the type of a bake's HTML page may be so that it prints on one sheet.

A browser does not tell Python how high its lines come out, so the height is
reckoned from the number of characters, generously; a test prints pages in a real
browser. The sheet is the smaller of A4 and US Letter in each direction.
"""

import math
import re
from collections.abc import Iterable, Sequence

from bakelab.sheets.bake import BakeSheet
from bakelab.sheets.bake_entries import Entry

__all__ = ["DRAWING_EM", "PHOTO_EM", "bake_page_pt"]

DRAWING_EM = 13.5
"""Greatest height of a drawing, in the page's type size."""

PHOTO_EM = 10.0
"""Greatest height of a photo."""


_SIZES_PT = tuple(quarters / 4 for quarters in range(38, 19, -1))  # 9.5 to 5
_PAGE_WIDTH_MM = 186.0  # A4 less 12 mm on each side
_PAGE_HEIGHT_MM = 257.0  # US Letter less 11 mm above and below
_SPARE = 0.94
_GUTTER_MM = 8.0
_LEFT_SHARE = 1 / 2.15
_MM_PER_PT = 25.4 / 72
_LINE_EM = 1.24
_CHARACTER_EM = 0.44
_ROW_EM = 1.54
_HEAD_EM = 2.3
_PHOTOS_IN_ROW = 3
_VIEW_BOX = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')


def bake_page_pt(sheet: BakeSheet) -> float:
    """The largest type, in points, that leaves the page on one sheet.

    The smallest if none does: notes longer than that run on to a second sheet.
    """
    room = _PAGE_HEIGHT_MM * _SPARE
    fits = (size for size in _SIZES_PT if _height_mm(sheet, size) <= room)
    return next(fits, _SIZES_PT[-1])


def _height_mm(sheet: BakeSheet, size_pt: float) -> float:
    em = size_pt * _MM_PER_PT
    head = em * (5.2 + _lines(sheet.title, 20) * 2.2 + 1.8 * bool(sheet.tags))
    columns = max(_left_mm(sheet, em), _right_mm(sheet, em))
    return head + columns + em * _below_em(sheet, (_PAGE_WIDTH_MM - _GUTTER_MM) / em)


def _left_mm(sheet: BakeSheet, em: float) -> float:
    width_em = (_PAGE_WIDTH_MM - _GUTTER_MM) * _LEFT_SHARE / em
    height = sum(_entries_em(entries, width_em) for _, entries in sheet.groups)
    weights = [_lines(label, width_em - 12) for label, _, _ in sheet.weights]
    return em * (height + 2 * _HEAD_EM + 2 + _ROW_EM * sum(weights))


def _right_mm(sheet: BakeSheet, em: float) -> float:
    width_mm = (_PAGE_WIDTH_MM - _GUTTER_MM) * (1 - _LEFT_SHARE)
    parts = (sheet.computed, sheet.off, sheet.stages)
    rows = em * sum(_entries_em(entries, width_mm / em) for entries in parts)
    drawings = sum(_drawing_mm(svg, width_mm, em) for svg in sheet.drawings)
    return rows + drawings + _photos_mm(sheet, em)


def _entries_em(entries: Sequence[Entry], width_em: float) -> float:
    """A head and its rows; a long row takes more lines."""
    height = _HEAD_EM if entries else 0.0
    for entry in entries:
        words = f"{entry.label} {entry.value} {entry.state}"
        height += _ROW_EM + (_lines(words, width_em) - 1) * _LINE_EM
    return height


def _drawing_mm(svg: str, width_mm: float, em: float) -> float:
    found = _VIEW_BOX.search(svg)
    if not found:
        return 0.0
    height_mm = width_mm * float(found[2]) / float(found[1])
    return min(height_mm, DRAWING_EM * em) + 0.8 * em


def _photos_mm(sheet: BakeSheet, em: float) -> float:
    if not sheet.photos:
        return 0.0
    rows = math.ceil(len(sheet.photos) / _PHOTOS_IN_ROW)
    words = max(_lines(photo.caption, 18) for photo in sheet.photos)
    return em * _HEAD_EM + rows * em * (PHOTO_EM + _LINE_EM * words + 1)


def _below_em(sheet: BakeSheet, width_em: float) -> float:
    """Notes on the left, what was corrected and cautions on the right."""
    left = right = 0.0
    narrow_em = width_em * _LEFT_SHARE if sheet.notes else width_em
    for _, blocks in sheet.notes:
        left += 2.2
        for block in blocks:
            text = "".join(run.text for run in block.runs)
            left += _paragraph_em(text.splitlines() or [""], narrow_em - 3)
    for items in (sheet.corrections, sheet.cautions):
        wide_em = width_em - narrow_em if sheet.notes else width_em
        right += _HEAD_EM * bool(items) + _paragraph_em(items, wide_em - 2)
    return max(left + _HEAD_EM * bool(sheet.notes), right) + 2.0


def _paragraph_em(texts: Iterable[str], width_em: float) -> float:
    return sum(_lines(text, width_em) * _LINE_EM + 0.45 for text in texts)


def _lines(text: str, width_em: float) -> int:
    return max(1, math.ceil(_CHARACTER_EM * len(text) / max(width_em, 6.0)))
