"""A comparison taken along: its table as CSV, its picture as SVG."""

import re

from bakelab.bakebook.exchange_csv import csv_text
from bakelab.panels.compare.answers import Found, shown
from bakelab.panels.saving import download_link
from bakelab.panels.svg import svg_text

__all__ = ["saved_comparison"]


def saved_comparison(found: Found, *, kind: str, format_: str) -> str:
    """A link to a file with the answer; cells that a spreadsheet would run are tame.

    Parameters
    ----------
    found : a comparison
    kind : str
        What was compared, for the name of the file.
    format_ : {"csv", "svg"}
    """
    name = re.sub(r"[^a-z0-9]+", "-", kind.casefold()).strip("-")
    if format_ == "svg":
        picture = svg_text(shown(found, ink="#000000").charts[0])
        return download_link(picture, f"{name}.svg", "svg")
    table = shown(found).table
    text = csv_text([str(c) for c in table.columns], table.itertuples(index=False))
    return download_link(text, f"{name}.csv", "csv")
