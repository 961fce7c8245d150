"""`check`: every finding on one recipe."""

import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from bakelab.checking.accepted import accepted_beside, with_accepted
from bakelab.checking.amounts_used import find_used
from bakelab.checking.baking import find_baking
from bakelab.checking.case import Case
from bakelab.checking.claims import find_claims, find_free_from, find_serving_salt
from bakelab.checking.complete import find_doubts, find_missing, find_repeats
from bakelab.checking.conversions import find_conversions
from bakelab.checking.core import find_core
from bakelab.checking.counts import find_counts
from bakelab.checking.hydration import find_stated_hydration
from bakelab.checking.in_pan import find_capacity, find_loading
from bakelab.checking.losses import find_losses
from bakelab.checking.method import find_unlisted, find_unused
from bakelab.checking.model import KINDS, Finding, Report
from bakelab.checking.overall import find_overall
from bakelab.checking.percentages import find_percentages, find_totals
from bakelab.checking.source import Piece, pieces_of
from bakelab.checking.temperatures import find_temperatures
from bakelab.checking.times import find_times
from bakelab.checking.usual import find_preferments, find_usual, find_yeast
from bakelab.checking.volumes import find_volumes
from bakelab.checking.yields import find_yields
from bakelab.errors import ReadError
from bakelab.reading import Recipe, read_recipe
from bakelab.reading.sources import source_text

__all__ = ["check", "check_file", "check_piece"]

_CHECKS: tuple[Callable[[Case], Iterator[Finding]], ...] = (
    find_volumes,
    find_counts,
    find_conversions,
    find_temperatures,
    find_percentages,
    find_totals,
    find_overall,
    find_stated_hydration,
    find_yields,
    find_losses,
    find_capacity,
    find_loading,
    find_baking,
    find_times,
    find_core,
    find_usual,
    find_yeast,
    find_preferments,
    find_unused,
    find_unlisted,
    find_used,
    find_repeats,
    find_doubts,
    find_missing,
    find_free_from,
    find_claims,
    find_serving_salt,
)


def check(
    recipe_or_text: Recipe | str | os.PathLike[str],
    *,
    market: str | None = None,
    language: str | None = None,
    style: str | None = None,
    name: str = "",
) -> Report:
    """Find the published quantities of a recipe that cannot all be true.

    Parameters
    ----------
    recipe_or_text : Recipe, str or path
        A recipe that was read, the text of one, or the path of a file with
        one. For a file with several recipes take `check_file`.
    market : str, optional
        What a cup and a spoon mean, a key of `bakelab.reading.MARKETS`.
    language : str, optional
        ``"en"``, ``"de"`` or ``"fr"``; guessed by default.
    style : str, optional
        Style whose usual bands count; by default the one the title claims.
    name : str
        Shown as the name of the text.

    Returns
    -------
    Report
        Its findings, the gravest first.

    Raises
    ------
    ReadError
        If there is nothing that could be a recipe.

    Notes
    -----
    A finding is never an alarm from rounding: every number stands for all
    values that round to the digits printed, see `bakelab.checking.printed`.

    Examples
    --------
    >>> report = check("Loaf\\n\\n500 g (2 cups) flour\\n340 g water\\n10 g salt")
    >>> [f.identifier for f in report.by_kind("conflict")]
    ['weight-against-volume']
    """
    if isinstance(recipe_or_text, Recipe):
        return _report(recipe_or_text, _text_of(recipe_or_text), name, 1, market, style)
    if isinstance(recipe_or_text, os.PathLike):
        path = Path(recipe_or_text)
        piece = next(iter(pieces_of(path)), None)
        if piece is None:
            raise ReadError(f"{path.name} has no recipe; give one with amounts")
        found = check_piece(piece, market=market, language=language, style=style)
        return _accepted(found, path)
    text, _ = source_text(recipe_or_text)
    named = name or ("" if "\n" in recipe_or_text else recipe_or_text)
    piece = Piece(named, text)
    return check_piece(piece, market=market, language=language, style=style)


def check_file(
    path: str | os.PathLike[str],
    *,
    market: str | None = None,
    language: str | None = None,
    style: str | None = None,
) -> tuple[Report, ...]:
    """A report for every recipe of a file; see `check` for the arguments.

    Of a file with several parts, one that has no ingredients is no recipe
    and has no report.
    """
    where = Path(path)
    found: list[Report] = []
    refused: ReadError | None = None
    for piece in pieces_of(where):
        try:
            report = check_piece(piece, market=market, language=language, style=style)
        except ReadError as error:
            refused = error
            continue
        found.append(_accepted(report, where))
    if not found and refused is not None:
        raise refused
    return tuple(found)


def check_piece(
    piece: Piece,
    *,
    market: str | None = None,
    language: str | None = None,
    style: str | None = None,
) -> Report:
    """The report on one piece of a file."""
    text = piece.text if "\n" in piece.text else f"{piece.text}\n"
    recipe = _titled(read_recipe(text, language=language, market=market), piece.title)
    if not recipe.lines:
        raise ReadError(
            f"{repr(piece.key) if piece.key else 'the text'} has no ingredient line; "
            "give a recipe with its ingredients and amounts"
        )
    return _report(recipe, piece.text, piece.key, piece.first_line, market, style)


def _titled(recipe: Recipe, title: str) -> Recipe:
    """A recipe of an article has the title above its list, not the article's."""
    if not title:
        return recipe
    formula = recipe.formula and replace(recipe.formula, title=title)
    return replace(recipe, title=title, formula=formula)


def _report(
    recipe: Recipe, text: str, name: str, first_line: int, market: str | None,
    style: str | None,
) -> Report:  # fmt: skip
    case = Case(
        recipe, text, market=market or recipe.market, style=style,
        first_line=first_line,
    )  # fmt: skip
    found = [f for one in _CHECKS for f in one(case)]
    ordered = sorted(found, key=lambda f: (KINDS.index(f.kind), f.line_no))
    return Report(name, recipe.title, tuple(ordered), recipe, text, first_line)


def _accepted(report: Report, path: Path) -> Report:
    kept = accepted_beside(path)
    if not kept:
        return report
    return replace(report, findings=with_accepted(report.findings, path.name, kept))


def _text_of(recipe: Recipe) -> str:
    """The text of a recipe that was read before, line by line."""
    last = max((ln.line_no for ln in recipe.lines), default=0)
    lines = [""] * last
    for line in recipe.lines:
        if line.line_no > 0:
            lines[line.line_no - 1] = line.text
    return "\n".join([*lines, "", recipe.title, recipe.method])
