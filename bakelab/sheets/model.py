"""What stands on a kitchen sheet: plain text in order, ready to be set."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

__all__ = ["Big", "Sheet", "SheetLine", "SheetStage", "halves", "two_columns"]


@dataclass(frozen=True)
class Big:
    """One of the large numbers at the head: `Flour`, `412`, `g`."""

    name: str
    value: str
    unit: str


@dataclass(frozen=True)
class SheetLine:
    """One weight: what the scale shows, the ingredient, its percentage."""

    weigh: str
    label: str
    pct: str
    note: str = ""


@dataclass(frozen=True)
class SheetStage:
    """The weights of one stage; no name where there is only one."""

    name: str
    total: str
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True)
class Sheet:
    """A page for the kitchen, as text; `sheet_pdf` and `sheet_html` set it.

    `drawing` is the SVG of the pans in black, or empty. `working` are the
    steps of the scaling, `as_written` lines of the recipe, `made` what
    identifies the sheet (date and formula key).
    """

    title: str
    fitted_to: str
    numbers: tuple[Big, ...]
    stages: tuple[SheetStage, ...]
    dough: SheetLine
    drawing: str = ""
    pans: tuple[str, ...] = ()
    oven: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    as_written: tuple[str, ...] = ()
    made: str = ""
    language: str = "en"

    @property
    def rows(self) -> int:
        """Lines of the table of weights, sub-heads counted."""
        return sum(len(s.lines) + bool(s.name) for s in self.stages)

    def to_data(self) -> dict[str, Any]:
        """Plain data for the templates; cautions in two columns,
        each split into its subject and the text after the colon."""
        data = asdict(self) | {"rows": self.rows}
        data["cautions"] = [
            [_split(text) for text in column] for column in two_columns(self.cautions)
        ]
        data["halves"] = [[asdict(s) for s in half] for half in halves(self.stages)]
        return data


def halves(
    stages: Sequence[SheetStage],
) -> tuple[tuple[SheetStage, ...], tuple[SheetStage, ...]]:
    """The stages in two columns of about the same height.

    A stage that is cut goes on in the second column under its name.
    """
    total = sum(len(s.lines) + bool(s.name) for s in stages)
    room = (total + 1) // 2
    first: list[SheetStage] = []
    for place, stage in enumerate(stages):
        free = room - bool(stage.name)
        if len(stage.lines) > free:
            fits, rest = _cut(stage, max(free, 0))
            return (*first, *fits), (*rest, *stages[place + 1 :])
        first.append(stage)
        room = free - len(stage.lines)
    return tuple(first), ()


def two_columns(texts: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Paragraphs in two columns of about the same length, in order."""
    total, before = sum(map(len, texts)), 0
    columns: tuple[list[str], list[str]] = ([], [])
    for text in texts:
        columns[2 * before + len(text) > total].append(text)
        before += len(text)
    return tuple(tuple(column) for column in columns if column)


def _cut(
    stage: SheetStage, free: int
) -> tuple[tuple[SheetStage, ...], tuple[SheetStage, ...]]:
    if free == 0:
        return (), (stage,)
    name = f"{stage.name}, continued" if stage.name else ""
    head = SheetStage(stage.name, stage.total, stage.lines[:free])
    return (head,), (SheetStage(name, "", stage.lines[free:]),)


def _split(caution: str) -> dict[str, str]:
    subject, colon, text = caution.partition(":")
    return {"subject": subject + colon, "text": text.strip()}
