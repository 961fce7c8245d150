"""Plan a tasting: what is asked is checked, then slips and key are drawn."""

import random
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.tasting.difference import risks
from bakelab.tasting.kinds import TestKind, kind_of
from bakelab.tasting.likeness import AIMS
from bakelab.tasting.safety import allergen_line, tasting_cautions
from bakelab.tasting.serving import (
    Serving,
    serving_plan,
)
from bakelab.tasting.session import LETTERS, Tasting

__all__ = ["plan_tasting"]

_NAME_LENGTH = 60
_TITLE_LENGTH = 60
_QUESTION_LENGTH = 200
_ALLERGENS_LENGTH = 300


def plan_tasting(
    test: str,
    samples: Sequence[str],
    *,
    tasters: int,
    seed: int | None = None,
    title: str = "",
    question: str = "",
    formulas: Mapping[str, Formula] | None = None,
    more_allergens: str = "",
    expected: Sequence[str] = (),
    reference: str = "",
    alpha: float = 0.05,
    beta: float = 0.2,
    share: float = 0.5,
    aim: str = "difference",
) -> Tasting:
    """Plan a tasting: who gets which sample under which code.

    Parameters
    ----------
    test : str
        One of `TESTS`.
    samples : sequence of str
        Names of the samples; two, or three to eight for a ranking.
    tasters : int
    seed : int, optional
        Drawn by default.
    title, question : str
        For the slips; they must not give the samples away. A one-sided paired test
        needs a question, the others have one of their own.
    formulas : mapping of str to Formula, optional
        By sample: allergens and cautions come from them.
    more_allergens : str
        What is known besides, separated by commas.
    expected : sequence of str
        Ranking: the order expected beforehand, first place first, or nothing.
        One-sided paired test: the one sample expected to be chosen.
    reference : str
        Duo-trio: the sample that is always the reference, or nothing for turns.
    alpha, beta, share : float
        The risks, and the share of people that the plan is made to find. If the aim
        is likeness: the risks of not showing it and of showing it wrongly, and the
        share of people who may taste a difference.
    aim : {"difference", "likeness"}

    Raises
    ------
    BakelabError
        If something is missing or does not go together.

    Examples
    --------
    >>> plan = plan_tasting("triangle", ["house", "less salt"], tasters=12, seed=4)
    >>> plan.slips[0].codes, plan.balance
    (('383', '898', '276'), 'Each of the 6 serving orders is used 2 times.')
    """
    kind = _kind(test, aim, alpha, beta)
    names = _names(samples)
    order = _expected(kind, names, expected)
    _require_reference(reference, test, names)
    drawn = random.SystemRandom().randrange(10**6) if seed is None else seed
    slips, key = _drawn(test, names, tasters, drawn, reference)
    known, line = _known(names, formulas or {}, more_allergens)
    return Tasting(
        test,
        _short(title, "title", _TITLE_LENGTH) or "Tasting",
        _question(kind, question, names),
        names,
        order,
        tuple(replace(slip, allergens=line) for slip in slips),
        key,
        line,
        tasting_cautions(known.values()),
        alpha,
        beta,
        share,
        drawn,
        reference,
        MappingProxyType({name: f.key for name, f in known.items()}),
        aim,
    )


def _drawn(
    test: str, names: Sequence[str], tasters: int, seed: int, reference: str
) -> tuple[list[Serving], Mapping[str, str]]:
    """Slips, and the sample behind every code."""
    slips, letter_of = serving_plan(
        test,
        tasters=tasters,
        seed=seed,
        samples=len(names),
        reference=LETTERS[names.index(reference)] if reference else "",
    )
    name_of = dict(zip(LETTERS, names, strict=False))
    key = {code: name_of[letter] for code, letter in letter_of.items()}
    return list(slips), MappingProxyType(key)


def _known(
    names: Sequence[str], formulas: Mapping[str, Formula], more_allergens: str
) -> tuple[dict[str, Formula], str]:
    """The formulas that are known of the samples, and the line of allergens."""
    known = {name: f for name, f in formulas.items() if name in names}
    more = _short(more_allergens, "list of allergens", _ALLERGENS_LENGTH)
    line = allergen_line(list(known.values()), more)
    if known and len(known) < len(names):
        line += " The ingredients of some samples were not looked up."
    return known, line


def _require_reference(reference: str, test: str, names: Sequence[str]) -> None:
    if reference and (test != "duo-trio" or reference not in names):
        raise BakelabError(
            f"got the reference {reference!r}; in a duo-trio name one of "
            f"{', '.join(names)}, or none"
        )


def _kind(test: str, aim: str, alpha: float, beta: float) -> TestKind:
    """The kind of test, once risks and aim go with it."""
    kind = kind_of(test)
    risks(alpha, beta)
    _require_aim(aim, test)
    return kind


def _require_aim(aim: str, test: str) -> None:
    if aim not in AIMS:
        raise BakelabError(f"got the aim {aim!r}; choose from {', '.join(AIMS)}")
    if aim == "likeness" and test not in ("triangle", "duo-trio"):
        raise BakelabError(
            f"likeness is shown by a triangle or a duo-trio, not by {test!r}; change "
            "the test or the aim"
        )


def _short(text: str, what: str, most: int) -> str:
    """One line of text; refused where it is too long for a slip."""
    line = re.sub(r"\s+", " ", text).strip()
    if len(line) > most:
        raise BakelabError(
            f"the {what} {line[:20]!r}… has {len(line)} characters; use up to {most}"
        )
    return line


def _names(samples: Sequence[str]) -> tuple[str, ...]:
    if isinstance(samples, str):
        raise BakelabError(
            f"got the one text {samples[:_NAME_LENGTH]!r}; give a list of names"
        )
    names = tuple(_short(name, "name of a sample", _NAME_LENGTH) for name in samples)
    if not all(names):
        raise BakelabError("a sample has no name; name every sample")
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice:
        raise BakelabError(f"two samples are called {twice!r}; give each its own name")
    return names


def _expected(
    kind: TestKind, names: tuple[str, ...], expected: Sequence[str]
) -> tuple[str, ...]:
    order = tuple(_short(name, "name of a sample", _NAME_LENGTH) for name in expected)
    if kind.name == "paired":
        if len(order) != 1 or order[0] not in names:
            raise BakelabError(
                "a one-sided paired test needs the sample that is expected to be "
                f"chosen: {' or '.join(names[:2])}; if either could be, take the "
                "two-sided test"
            )
    elif order and (not kind.ranks or sorted(order) != sorted(names)):
        raise BakelabError(
            f"got the expected order {', '.join(order)}; in a ranking name each of "
            f"{', '.join(names)} once, or nothing"
        )
    return order


def _question(kind: TestKind, question: str, names: Sequence[str]) -> str:
    asked = _short(question, "question", _QUESTION_LENGTH)
    words = [(name, rf"(?<!\w){re.escape(name)}(?!\w)") for name in names]
    told = next((n for n, word in words if re.search(word, asked, re.IGNORECASE)), "")
    if told and len(told) > 1:
        raise BakelabError(
            f"the question names the sample {told!r}; ask so that no taster learns "
            "what is served"
        )
    if not (asked or kind.asks):
        raise BakelabError(
            "a one-sided paired test needs its question, such as: Which is saltier?"
        )
    return asked or kind.asks
