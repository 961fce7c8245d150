"""A kitchen sheet as one self-contained HTML page without a script."""

from bakelab.charts.written import xml_clean
from bakelab.sheets.model import Sheet
from bakelab.sheets.page_fit import page_fit
from bakelab.sheets.templates import page_of

__all__ = ["sheet_html"]


def sheet_html(sheet: Sheet) -> str:
    """The sheet as HTML that prints on one page of A4 or US Letter.

    Every word is escaped, the page holds no script and asks for nothing
    from elsewhere; its content security policy forbids both.
    """
    from markupsafe import Markup

    fit = page_fit(sheet)
    page = page_of(
        "sheet.html.j2",
        sheet=sheet.to_data(),
        drawing=Markup(sheet.drawing),
        fit=fit,
    )
    return xml_clean(page)
