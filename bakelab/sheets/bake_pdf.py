"""A bake's page as a PDF of one page, set by typst without a network."""

from pathlib import Path

from bakelab.charts.written import xml_clean, xml_text
from bakelab.sheets.bake import BakePhoto, BakeSheet
from bakelab.sheets.pdf import each_text, pdf_of

__all__ = ["bake_pdf"]

_TEMPLATE = Path(__file__).with_name("bake.typ")


def bake_pdf(sheet: BakeSheet, *, paper: str = "a4") -> bytes:
    """The page as the bytes of a PDF; type shrinks until it fits one page.

    Words reach the page as data and never run. Notes longer than one page can
    hold in readable type run on to a second one; nothing is left out.

    Parameters
    ----------
    sheet : BakeSheet
    paper : {"a4", "us-letter"}

    Raises
    ------
    BakelabError
        If there is no such paper.
    """
    data = each_text(sheet.to_data(), xml_clean)
    data["photos"] = [_as_svg(photo) for photo in sheet.photos]
    return pdf_of(_TEMPLATE, data, paper=paper)


def _as_svg(photo: BakePhoto) -> dict[str, str]:
    """A picture wrapped as SVG, which reaches the page as data without a file."""
    width, height = max(1, photo.width), max(1, photo.height)
    drawn = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}"><image width="{width}" '
        f'height="{height}" href="{xml_text(photo.address)}"/></svg>'
    )
    return {"svg": drawn, "caption": xml_clean(photo.caption)}
