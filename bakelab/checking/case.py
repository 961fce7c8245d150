"""One recipe laid out for the checks: its lines, amounts, prose and formula."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from bakelab.checking.model import Quote
from bakelab.checking.printed import Interval, interval
from bakelab.checking.shares import Part, exact_band, parts_of
from bakelab.formula import Formula
from bakelab.reading import MARKETS, Line, Recipe
from bakelab.reading.amounts import Amount
from bakelab.reading.built import made_above
from bakelab.reading.clean import clean_line, plain_text
from bakelab.reading.phrase import Phrase, take_apart
from bakelab.reading.tablelike import TableReader, cells_of, looks_like_csv
from bakelab.reading.weights import Market, unit_ml
from bakelab.units import CUPS_ML, kitchen_units

__all__ = ["Case", "Entry", "Stated"]

_LABEL_CUP_ML = CUPS_ML["label"]
_NEXT_THING = re.compile(r"\)[^(]*\w")


@dataclass(frozen=True, slots=True)
class Stated:
    """One amount on a line with what its digits stand for, in its own unit."""

    amount: Amount
    printed: str
    span: Interval

    @property
    def value(self) -> float:
        return float(self.amount.low + self.amount.high) / 2

    @property
    def kind(self) -> str:
        return self.amount.kind

    def grams(self) -> Interval:
        """A mass in g."""
        return self.span.times(kitchen_units()[self.amount.unit or "g"].size)

    def grams_exact(self) -> Interval:
        """A mass in g, the digits taken as exact."""
        size = kitchen_units()[self.amount.unit or "g"].size
        return Interval(float(self.amount.low) * size, float(self.amount.high) * size)

    def millilitres(self, market: Market, *, exact: bool = False) -> Interval:
        """A volume in mL; a cup is any of the US, the label and the market's cup.

        Nobody prints which cup is meant, so all of them count.
        """
        low, high = self.span.low, self.span.high
        if exact:
            low, high = float(self.amount.low), float(self.amount.high)
        sizes = _unit_sizes(self.amount.unit or "ml", market)
        return Interval(low * min(sizes), high * max(sizes))


def _unit_sizes(unit: str, market: Market) -> tuple[float, ...]:
    sizes = [kitchen_units()[unit].size, unit_ml(unit, market)]
    if unit == "cup":
        sizes += [_LABEL_CUP_ML, MARKETS["metric"].cup_ml]
    elif unit in ("tbsp", "tsp", "fl oz"):
        sizes += [unit_ml(unit, MARKETS["label"])]
    elif unit in ("pint", "quart", "gallon", "gill"):
        sizes += [unit_ml(unit, MARKETS["uk"])]
    return tuple(sizes)


@dataclass(frozen=True)
class Entry:
    """An ingredient line with its amounts."""

    line: Line
    clean: str
    phrase: Phrase
    stated: tuple[Stated, ...]
    quote: Quote

    @property
    def masses(self) -> tuple[Stated, ...]:
        return tuple(s for s in self.stated if s.amount.is_mass)

    @property
    def volumes(self) -> tuple[Stated, ...]:
        return tuple(s for s in self.stated if s.kind == "volume")

    @property
    def in_dough(self) -> bool:
        return self.line.state in ("read", "doubt")

    @property
    def name(self) -> str:
        return self.line.label


def _of_one_thing(phrase: Phrase, text: str) -> Sequence[Amount]:
    """The amounts up to the next thing on the line: a word behind a bracket."""
    if phrase.amount is None:
        return ()
    kept = [phrase.amount]
    for amount in phrase.same:
        between = text[kept[-1].end : amount.start]
        if amount.start > kept[-1].end and _NEXT_THING.search(between):
            break
        kept.append(amount)
    return kept


def _of_one_column(stated: Sequence[Stated], line: Line) -> tuple[Stated, ...]:
    """Of a table row with a column for each stage, the amount that was read."""
    units = [s.amount.unit for s in stated if s.amount.is_mass]
    return tuple(
        s for s in stated
        if not s.amount.is_mass
        or units.count(s.amount.unit) == 1
        or line.stated_g is None
        or s.grams_exact().holds(line.stated_g)
    )  # fmt: skip


class Case:
    """A recipe with everything that more than one check asks for."""

    def __init__(
        self,
        recipe: Recipe,
        text: str,
        *,
        market: str,
        style: str | None = None,
        first_line: int = 1,
    ) -> None:
        self.recipe = recipe
        self.market = MARKETS[market]
        self.market_key = market
        self.style = style
        self.first_line = first_line
        self._text = text
        self._bands: dict[str, Interval] = {}

    @cached_property
    def physical(self) -> tuple[str, ...]:
        """The lines of the text as they stand in the file."""
        return tuple(self._text.splitlines())

    @property
    def formula(self) -> Formula | None:
        return self.recipe.formula

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """Every line of the ingredient list."""
        return tuple(
            self._entry(line) for line in self.recipe.lines if line.line_no > 0
        )

    @cached_property
    def dough(self) -> tuple[Entry, ...]:
        """The lines that go into the dough."""
        return tuple(e for e in self.entries if e.in_dough)

    @cached_property
    def prose(self) -> tuple[Quote, ...]:
        """Every line of running text: title, introduction, method and notes."""
        listed = {e.quote.line_no for e in self.entries}
        out = []
        for number, line in enumerate(self.physical, self.first_line):
            plain = plain_text(line)
            if number not in listed and plain:
                out.append(Quote(number, plain))
        return tuple(out) if not self.is_data else self._method_quotes()

    @cached_property
    def is_data(self) -> bool:
        """Whether the text is a web page or JSON, in which lines mean nothing."""
        head = self._text.lstrip("\ufeff \t\r\n")[:20].casefold()
        return head.startswith(("{", "[", "<"))

    @cached_property
    def story(self) -> str:
        """All running text in one piece."""
        return "\n".join(q.text for q in self.prose)

    @property
    def method(self) -> str:
        return self.recipe.method

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """The weighed lines of the dough with low, middle and high grams."""
        return parts_of(self.recipe.lines)

    def band(self, measure: str) -> Interval:
        """The exact band of a measure of `bakelab.checking.shares.MEASURES`."""
        if measure not in self._bands:
            self._bands[measure] = exact_band(self.parts, measure)
        return self._bands[measure]

    @cached_property
    def unweighed(self) -> tuple[Entry, ...]:
        """Lines of the dough without a weight, but `all of the poolish`."""
        lines = self.recipe.lines
        return tuple(
            e for e in self.dough
            if e.line.mass_g is None and made_above(e.line, lines) is None
        )  # fmt: skip

    def quote(self, text: str, hint: int = 0) -> Quote:
        """A quotation with the number of its line in the file."""
        wanted = " ".join(text.split())[:24]
        if 0 < hint <= len(self.physical) and self._same(hint - 1, wanted):
            return Quote(hint + self.first_line - 1, text)
        for index in range(len(self.physical)):
            if wanted and self._same(index, wanted):
                return Quote(index + self.first_line, text)
        inside = hint if 0 < hint <= len(self.physical) else 0
        return Quote(inside + self.first_line - 1 if inside else 0, text)

    def _same(self, index: int, wanted: str) -> bool:
        return wanted in " ".join(self._squeezed[index].split())

    @cached_property
    def _squeezed(self) -> tuple[str, ...]:
        return tuple(
            line if line.isascii() else plain_text(line) for line in self.physical
        )

    @cached_property
    def _rows(self) -> dict[str, str]:
        """The rows of tables as the lines that they were read as."""
        rows = looks_like_csv(self._text) if not self.is_data else None
        reader, out = TableReader(), {}
        for cells in rows or ():
            reading = reader.read(cells)
            if reading is not None:
                out[", ".join(c for c in cells if c)] = reading
        for line in () if rows else self.physical:
            row = cells_of(line) if "|" in line or "\t" in line else None
            if row is None:
                reader = TableReader()
            elif (reading := reader.read(row)) is not None:
                out[line.strip()] = reading
        return out

    def _entry(self, line: Line) -> Entry:
        clean = clean_line(self._rows.get(line.text.strip(), line.text))
        phrase = take_apart(clean, self.recipe.language)
        shown = _of_one_thing(phrase, clean)
        stated = tuple(
            Stated(a, clean[a.start : a.end], interval(a, clean)) for a in shown
        )
        if line.text.strip() in self._rows:
            stated = _of_one_column(stated, line)
        return Entry(line, clean, phrase, stated, self.quote(line.text, line.line_no))

    def _method_quotes(self) -> tuple[Quote, ...]:
        texts = [self.recipe.title, *self.method.splitlines()]
        return tuple(self.quote(t) for t in texts if t.strip())
