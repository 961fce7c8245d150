"""A kitchen sheet as one self-contained HTML page without a script."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from bakelab.charts.written import xml_clean
from bakelab.sheets.model import Sheet
from bakelab.sheets.page_fit import page_fit

if TYPE_CHECKING:
    from jinja2 import Template

__all__ = ["sheet_html"]


def sheet_html(sheet: Sheet) -> str:
    """The sheet as HTML that prints on one page of A4 or US Letter.

    Every word is escaped, the page holds no script and asks for nothing
    from elsewhere; its content security policy forbids both.
    """
    from markupsafe import Markup

    fit = page_fit(sheet)
    page = _template().render(
        sheet=sheet.to_data(),
        drawing=Markup(sheet.drawing),
        fit=fit,
    )
    return xml_clean(page)


@cache
def _template() -> "Template":
    from jinja2 import Environment, StrictUndefined

    source = Path(__file__).with_name("sheet.html.j2").read_text(encoding="utf-8")
    return Environment(autoescape=True, undefined=StrictUndefined).from_string(source)
