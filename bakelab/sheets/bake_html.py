"""A bake's page as HTML: a whole page to print, or a part inside a panel."""

from bakelab.charts.written import xml_clean
from bakelab.sheets.bake import BakeSheet
from bakelab.sheets.bake_fit import DRAWING_EM, PHOTO_EM, bake_page_pt
from bakelab.sheets.templates import page_of

__all__ = ["bake_html", "bake_part_html"]


def bake_html(sheet: BakeSheet) -> str:
    """A self-contained page without a script that prints on one sheet.

    Every word is escaped; its content security policy forbids scripts and
    anything from elsewhere.
    """
    return _rendered(sheet, whole=True)


def bake_part_html(sheet: BakeSheet) -> str:
    """The same inside a panel of the lab."""
    return _rendered(sheet, whole=False)


def _rendered(sheet: BakeSheet, *, whole: bool) -> str:
    from markupsafe import Markup

    drawings = [Markup(drawing) for drawing in sheet.drawings]
    page = page_of(
        "bake.html.j2",
        sheet=sheet,
        drawings=drawings,
        whole=whole,
        size_pt=bake_page_pt(sheet),
        drawing_em=DRAWING_EM,
        photo_em=PHOTO_EM,
    )
    return xml_clean(page)
