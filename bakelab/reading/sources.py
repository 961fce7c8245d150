"""Where a recipe comes from: pasted text, or a file of one of several kinds."""

import os
from pathlib import Path

from bakelab.errors import ReadError
from bakelab.formula.model import whole_text

__all__ = ["LONGEST_TEXT", "source_text"]

LONGEST_TEXT = 200_000  # characters of one recipe
LONGEST_FILE = 20_000_000  # bytes of a saved web page
_SUFFIXES = {
    ".csv": "csv",
    ".tsv": "csv",
    ".html": "html",
    ".htm": "html",
    ".json": "json",
    ".jsonld": "json",
}
_KINDS = (
    ".txt",
    ".md",
    ".markdown",
    ".csv",
    ".tsv",
    ".html",
    ".htm",
    ".json",
    ".jsonld",
    "",
)


def source_text(source: str | os.PathLike[str]) -> tuple[str, str]:
    """The text of a recipe and its kind: text, csv, html or json.

    A `Path`, or one line of text that names a file that exists, is read
    as a file; any other text is the recipe itself.

    Raises
    ------
    ReadError
        If the file is missing, empty, binary, too large or of a kind that
        is not read.
    """
    path = _as_path(source)
    if path is None:
        text = whole_text(str(source))
        kind = _kind_of(text)
        return _sized(text, "the text", kind), kind
    text = _file_text(path)
    suffix = path.suffix.casefold()
    kind = _SUFFIXES.get(suffix) or _kind_of(text)
    return _sized(text, path.name, kind), kind


def _as_path(source: str | os.PathLike[str]) -> Path | None:
    if isinstance(source, os.PathLike):
        return Path(source)
    if not isinstance(source, str):
        raise TypeError(
            f"got {source!r} where a recipe is needed; give its text or the path of "
            "a file"
        )
    one_line = len(source) < 500 and "\n" not in source and "\0" not in source
    if one_line and Path(source).suffix.casefold() in _KINDS[:-1]:
        path = Path(source).expanduser()
        if path.exists() or len(source.split()) == 1:
            return path
    return None


def _file_text(path: Path) -> str:
    if not path.exists():
        raise ReadError(f"there is no file {path}; give the path of a recipe file")
    if path.is_dir():
        raise ReadError(f"{path} is a folder; give one recipe file")
    if path.suffix.casefold() not in _KINDS:
        raise ReadError(
            f"{path.name} is of a kind that is not read; "
            "save the recipe as .txt, .md, .csv, .html or .json"
        )
    if path.stat().st_size > LONGEST_FILE:
        raise ReadError(f"{path.name} has more than 20 MB; save one recipe in a file")
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise ReadError(
            f"{path} cannot be opened ({error.strerror}); give a file you may read"
        ) from None
    return _decoded(raw, path.name)


def _decoded(raw: bytes, name: str) -> str:
    if b"\0" in raw[:4000] and not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise ReadError(f"{name} is not a text file; save the recipe as text")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _kind_of(text: str) -> str:
    head = text.lstrip("\ufeff \t\r\n")[:300].casefold()
    if head.startswith(("{", "[{")):
        return "json"
    tags = ("<!doctype html", "<html", "<head", "<script", "<?xml", "<body")
    return "html" if head.startswith(tags) else "text"


def _sized(text: str, name: str, kind: str) -> str:
    """A page or JSON may be long: only its recipe is read."""
    if kind not in ("html", "json") or len(text) > LONGEST_FILE:
        return _checked(text, name)
    _checked(text[:LONGEST_TEXT], name)
    return text


def _checked(text: str, name: str) -> str:
    if not text.strip():
        raise ReadError(
            f"{name} is empty; paste a recipe with an ingredient on each line"
        )
    if len(text) > LONGEST_TEXT:
        size = f"{len(text):,} characters, more than the {LONGEST_TEXT:,}"
        raise ReadError(f"{name} has {size} of one recipe; give one recipe at a time")
    return text
