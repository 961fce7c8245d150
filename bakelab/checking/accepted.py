"""Findings that an author keeps on purpose, in a small file beside the text."""

import json
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from bakelab.checking.model import Finding
from bakelab.checking.rules import RULES
from bakelab.errors import ReadError

__all__ = ["ACCEPTED_FILE", "Accepted", "accept", "accepted_beside", "with_accepted"]

ACCEPTED_FILE = ".bakelab-accepted.toml"
_HEAD = """\
# Findings that are kept on purpose. One [[keep]] for each:
#   file      name of the text, beside this file
#   finding   identifier of the finding
#   quote     words of the line; leave it out for the recipe as a whole
#   reason    why it stays
"""


@dataclass(frozen=True)
class Accepted:
    """One finding that is kept: in which file, on which line, and why."""

    file: str
    finding: str
    reason: str
    quote: str = ""

    def fits(self, name: str, found: Finding) -> bool:
        """Whether this is about a finding in a file of that name."""
        if self.finding != found.identifier or self.file != name:
            return False
        if not self.quote:
            return True
        wanted = " ".join(self.quote.split())
        return any(wanted in " ".join(q.text.split()) for q in found.quotes)


def accepted_beside(path: Path) -> tuple[Accepted, ...]:
    """What is accepted for a file, from the file `.bakelab-accepted.toml` beside it.

    Raises
    ------
    ReadError
        If that file cannot be understood, or an entry has no reason.
    """
    beside = path.parent / ACCEPTED_FILE
    if not beside.is_file():
        return ()
    try:
        data = tomllib.loads(beside.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, OSError, UnicodeDecodeError) as error:
        raise ReadError(
            f"{beside} cannot be read: {error}; mend or remove it"
        ) from None
    kept = data.get("keep", [])
    if not isinstance(kept, list):
        raise ReadError(f"{beside}: keep is a list of entries, each under [[keep]]")
    return tuple(_entry(e, beside) for e in kept)


def _entry(entry: object, beside: Path) -> Accepted:
    found = entry if isinstance(entry, dict) else {}
    values = {k: str(found.get(k, "")) for k in ("file", "finding", "reason", "quote")}
    if not values["reason"].strip():
        raise ReadError(f"{beside}: every entry needs a reason; one has none")
    if values["finding"] not in RULES:
        raise ReadError(
            f"{beside}: there is no finding {values['finding']!r}; see bakelab check "
            "--json for the identifiers"
        )
    return Accepted(**values)


def with_accepted(
    findings: Sequence[Finding], name: str, kept: Sequence[Accepted]
) -> tuple[Finding, ...]:
    """The findings, each with the reason for which it is kept, if it is."""
    return tuple(_marked(f, name, kept) for f in findings)


def _marked(found: Finding, name: str, kept: Sequence[Accepted]) -> Finding:
    reason = next((k.reason for k in kept if k.fits(name, found)), "")
    return replace(found, accepted=reason) if reason else found


def accept(path: str | Path, found: Finding, reason: str) -> Path:
    """Keep a finding for good: adds an entry to the file beside the text.

    Parameters
    ----------
    path : str or Path
        The checked file.
    found : Finding
    reason : str
        Why it stays; it must not be empty.

    Returns
    -------
    Path
        The file that was written.

    Raises
    ------
    ReadError
        If there is no reason, or the file cannot be written.
    """
    if not reason.strip():
        raise ReadError("a finding is accepted with a reason; say why it stays")
    target = Path(path)
    beside = target.parent / ACCEPTED_FILE
    quote = found.quotes[0].text if found.quotes else ""
    lines = ["", "[[keep]]", f"file = {_quoted(target.name)}",
             f"finding = {_quoted(found.identifier)}"]  # fmt: skip
    lines += [f"quote = {_quoted(quote)}"] if quote else []
    lines += [f"reason = {_quoted(reason.strip())}", ""]
    try:
        fresh = not beside.exists()
        with beside.open("a", encoding="utf-8") as out:
            out.write((_HEAD if fresh else "") + "\n".join(lines))
    except OSError as error:
        raise ReadError(f"cannot write {beside}: {error.strerror}") from None
    return beside


def _quoted(text: str) -> str:
    """A TOML basic string; JSON strings are a subset of them."""
    return json.dumps(text, ensure_ascii=False)
