"""What a check gives back: findings with their lines, arithmetic and mending."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from html import escape
from typing import TYPE_CHECKING, Any, Literal

from bakelab.reading import Recipe

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["KINDS", "Confidence", "Finding", "Kind", "Quote", "Report"]

Kind = Literal["conflict", "unlikely", "missing", "note"]
Confidence = Literal["high", "medium", "low"]
KINDS: tuple[Kind, ...] = ("conflict", "unlikely", "missing", "note")
COLUMNS = ("name", "recipe", "line_no", "kind", "identifier", "message", "mend",
           "confidence", "basis", "accepted")  # fmt: skip


@dataclass(frozen=True)
class Quote:
    """A line of the text as it is printed; 0 where the text has no such line."""

    line_no: int
    text: str


@dataclass(frozen=True)
class Finding:
    """One thing about the published numbers that wants a look.

    Parameters
    ----------
    identifier : str
        A plain name that stays the same from release to release; what it
        stands for is in `bakelab.checking.RULES`.
    kind : str
        ``"conflict"``: the numbers quoted cannot all be true, whatever was
        rounded. ``"unlikely"``: they can, but seldom are. ``"missing"``: a
        reader needs it and does not find it. ``"note"``: good to know.
    message : str
        One sentence.
    quotes : tuple of Quote
        The lines that it is about.
    working : tuple of str
        The arithmetic, step by step.
    mend : str
        What to do.
    confidence : str
        ``"high"``, ``"medium"`` or ``"low"``; our own judgement.
    basis : str
        Where the limit comes from.
    accepted : str
        The reason for which the author keeps it as it is; empty if open.
    """

    identifier: str
    kind: Kind
    message: str
    quotes: tuple[Quote, ...] = ()
    working: tuple[str, ...] = ()
    mend: str = ""
    confidence: Confidence = "medium"
    basis: str = ""
    accepted: str = ""

    @property
    def line_no(self) -> int:
        """The first line that it is about; 0 for the recipe as a whole."""
        return self.quotes[0].line_no if self.quotes else 0

    def to_dict(self) -> dict[str, Any]:
        """Plain data for machines."""
        return asdict(self)

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> "Finding":
        """Back from `to_dict`."""
        made = dict(data)
        made["quotes"] = tuple(Quote(**q) for q in data["quotes"])
        made["working"] = tuple(data["working"])
        return cls(**made)


@dataclass(frozen=True)
class Report:
    """The findings on one recipe, the gravest first.

    `name` is the file or the name that the recipe was given, `text` what
    was checked, `first_line` the number of its first line in that file.
    """

    name: str
    title: str
    findings: tuple[Finding, ...]
    recipe: Recipe = field(repr=False)
    text: str = field(default="", repr=False)
    first_line: int = 1

    @property
    def open(self) -> tuple[Finding, ...]:
        """The findings that nobody has accepted."""
        return tuple(f for f in self.findings if not f.accepted)

    def by_kind(self, kind: Kind) -> tuple[Finding, ...]:
        """The open findings of one kind."""
        return tuple(f for f in self.open if f.kind == kind)

    def counts(self) -> dict[str, int]:
        """How many open findings there are of each kind."""
        return {kind: len(self.by_kind(kind)) for kind in KINDS}

    @property
    def frame(self) -> "pd.DataFrame":
        """One row per finding."""
        return frame_of([self])

    def to_dict(self) -> dict[str, Any]:
        """Plain data with the documented keys of `bakelab check --json`."""
        return {
            "name": self.name,
            "title": self.title,
            "first_line": self.first_line,
            "counts": self.counts(),
            "findings": [f.to_dict() for f in self.findings],
        }

    def _repr_html_(self) -> str:
        return _html(self)


def frame_of(reports: Iterable[Report]) -> "pd.DataFrame":
    """One row per finding of all reports, columns `COLUMNS`."""
    import pandas as pd

    rows = [
        (r.name, r.title, f.line_no, f.kind, f.identifier, f.message, f.mend,
         f.confidence, f.basis, f.accepted)
        for r in reports
        for f in r.findings
    ]  # fmt: skip
    return pd.DataFrame(rows, columns=list(COLUMNS))


def _html(report: Report) -> str:
    rows = "".join(
        f"<tr><td><b>{f.kind}</b></td><td>{f.line_no or ''}</td>"
        f"<td style='text-align:left'>{escape(f.message)}<br><small>"
        f"{escape(' · '.join(f.working))}</small></td>"
        f"<td style='text-align:left'>{escape(f.mend)}</td></tr>"
        for f in report.open
    )
    counts = ", ".join(f"{n} {kind}" for kind, n in report.counts().items() if n)
    title = escape(report.title or report.name or "Recipe")
    return (
        f"<table><caption>{title}: {counts or 'nothing found'}</caption><thead><tr>"
        "<th>Finding</th><th>Line</th><th>What and why</th><th>How to mend it</th>"
        f"</tr></thead><tbody>{rows}</tbody></table>"
    )
