"""A formula out of the lab: CSV, JSON, Markdown, schema.org, HTML and PDF."""

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from bakelab.errors import BakelabError
from bakelab.formula import Formula, formula_to_csv, formula_to_json
from bakelab.scaling import Fitted
from bakelab.sheets.html import sheet_html
from bakelab.sheets.kitchen import kitchen_sheet
from bakelab.sheets.markdown import to_markdown
from bakelab.sheets.pdf import sheet_pdf
from bakelab.sheets.schema_org import to_schema_org

__all__ = ["FORMATS", "export", "schema_org_json"]

FORMATS: Mapping[str, str] = MappingProxyType(
    {
        ".csv": "csv",
        ".json": "json",
        ".md": "markdown",
        ".jsonld": "schema.org",
        ".html": "html",
        ".pdf": "pdf",
    }
)
"""Ending of a file name to the name of its format."""


def export(
    what: Formula | Fitted, to: str | Path, *, overwrite: bool = False
) -> str | bytes:
    """A formula in another format; to a file as well if `to` is a file name.

    CSV and JSON keep everything and read back as an equal formula. Markdown,
    HTML and PDF are the kitchen sheet. schema.org is a `Recipe` as JSON-LD.

    Parameters
    ----------
    what : Formula or Fitted
        Of a fitted one, the fitted formula.
    to : str or Path
        A format (``"csv"``, ``"json"``, ``"markdown"``, ``"schema.org"``,
        ``"html"``, ``"pdf"``) or a file name with one of the endings of
        `FORMATS`.
    overwrite : bool
        Whether a file that is already there may be replaced.

    Returns
    -------
    str, or bytes for PDF
        The content.

    Raises
    ------
    BakelabError
        If there is no such format, or the file is already there.
    """
    format_, path = _target(to)
    if path is not None and path.exists() and not overwrite:
        raise BakelabError(
            f"{path.name} is already there; choose another name or overwrite=True"
        )
    content = _WRITERS[format_](what)
    if path is not None:
        _write(path, content)
    return content


def schema_org_json(what: Formula | Fitted) -> str:
    """The schema.org `Recipe` as JSON text that is safe inside a web page.

    `<`, `>` and `&` are written as JSON escapes, so that no word of a recipe
    can close the script element around it.
    """
    text = json.dumps(to_schema_org(what), ensure_ascii=False, indent=1)
    for character in "<>&":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text


def _target(to: str | Path) -> tuple[str, Path | None]:
    if isinstance(to, str) and to in _WRITERS:
        return to, None
    path = Path(to)
    found = FORMATS.get(path.suffix.lower())
    if found is None:
        raise BakelabError(
            f"no format {str(to)!r}; choose one of {', '.join(_WRITERS)}, or a file "
            f"name that ends in {', '.join(FORMATS)}"
        )
    return found, path


def _write(path: Path, content: str | bytes) -> None:
    if isinstance(content, str):
        # A lone surrogate is no character: JSON reads the backslash form back.
        content = content.encode("utf-8", "backslashreplace")
    try:
        path.write_bytes(content)
    except OSError as error:
        raise BakelabError(
            f"{path.name} cannot be written ({error.strerror}); choose another folder"
        ) from None


def _formula(what: Formula | Fitted) -> Formula:
    return what.formula if isinstance(what, Fitted) else what


_WRITERS: Mapping[str, Callable[[Formula | Fitted], str | bytes]] = {
    "csv": lambda what: formula_to_csv(_formula(what)),
    "json": lambda what: formula_to_json(_formula(what)),
    "markdown": lambda what: to_markdown(kitchen_sheet(what)),
    "schema.org": schema_org_json,
    "html": lambda what: sheet_html(kitchen_sheet(what)),
    "pdf": lambda what: sheet_pdf(kitchen_sheet(what)),
}
