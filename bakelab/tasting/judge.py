"""The verdict on a tasting: exact result, plain words, and what it does not say."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from bakelab.errors import BakelabError
from bakelab.tasting.answers import Answer
from bakelab.tasting.difference import Difference, evaluate
from bakelab.tasting.likeness import Likeness, evaluate_likeness
from bakelab.tasting.ranking import Ranking, rank_samples
from bakelab.tasting.ranking_words import (
    ranking_findings,
    ranking_headline,
    ranking_limits,
    ranking_numbers,
)
from bakelab.tasting.session import Tasting
from bakelab.tasting.words import (
    chance_words,
    difference_limits,
    difference_sentence,
    percent,
    quoted,
    share_words,
)

__all__ = ["Verdict", "judge"]

_ONE_BAKE = (
    "It is about the loaves that were cut: another bake of the same formulas can "
    "differ, so bake each more than once before you decide."
)
_ALIKE = (
    "It does not say that nobody tastes a difference, nor that it is small for those "
    "who do."
)
_NOT_ALIKE = (
    "It does not say that the samples differ, only that too many right answers came "
    "in to call them alike."
)


@dataclass(frozen=True)
class Verdict:
    """What a tasting shows.

    Attributes
    ----------
    shown : bool
    headline : str
    findings : tuple of str
        What else can be said.
    limits : tuple of str
        What it does not say.
    numbers : tuple of (str, str)
        Labels and values, most telling first.
    result : Difference, Likeness or Ranking
    """

    shown: bool
    headline: str
    findings: tuple[str, ...]
    limits: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    result: Difference | Likeness | Ranking = field(repr=False)

    @property
    def text(self) -> str:
        """All of it, in sentences."""
        parts = [self.headline, *self.findings, "What this does not say:", *self.limits]
        return " ".join(parts)

    def to_data(self) -> dict[str, Any]:
        """Plain data for the bake book."""
        return {
            "shown": self.shown,
            "headline": self.headline,
            "findings": list(self.findings),
            "limits": list(self.limits),
            "numbers": dict(self.numbers),
        }


def judge(
    tasting: Tasting, answers: Mapping[int, Answer], *, closed: bool = False
) -> Verdict:
    """Judge a tasting.

    Parameters
    ----------
    tasting : Tasting
    answers : mapping of int to Answer
        By the number of the slip.
    closed : bool
        Judge although slips are missing, because nobody will hand them in. To look
        early and stop when it pleases finds differences that are not there.

    Raises
    ------
    BakelabError
        If there are no answers, or some are missing and it is not closed.
    """
    missing = [s.taster for s in tasting.slips if s.taster not in answers]
    if len(missing) == len(tasting.slips):
        raise BakelabError("there are no answers yet; enter those of the slips")
    if missing and not closed:
        raise BakelabError(
            f"{len(missing)} of {len(tasting.slips)} slips have no answer yet; enter "
            "them, or close the tasting without them"
        )
    verdict = (
        _ranked(tasting, answers) if tasting.kind.ranks else _compared(tasting, answers)
    )
    return _with_missing(verdict, len(missing), len(tasting.slips))


def _compared(tasting: Tasting, answers: Mapping[int, Answer]) -> Verdict:
    right = sum(_is_right(tasting, answer) for answer in answers.values())
    if tasting.aim == "likeness":
        return _alike(tasting, len(answers), right)
    found = evaluate(
        tasting.test,
        tasters=len(answers),
        correct=right,
        alpha=tasting.alpha,
        beta=tasting.beta,
    )
    named = tasting.expected or (
        tasting.samples if tasting.kind.two_sided else tasting.samples[:0]
    )
    names = [quoted(name) for name in named]
    headline = difference_sentence(found, names or ("",))
    band = share_words(found, quoted(tasting.samples[0]))
    return Verdict(
        found.shown,
        headline,
        (f"{band[:1].upper()}{band[1:]}.",),
        (*difference_limits(found, tasting.question), _ONE_BAKE),
        _numbers(tasting, found),
        found,
    )


def _alike(tasting: Tasting, tasters: int, right: int) -> Verdict:
    found = evaluate_likeness(
        tasting.test,
        tasters=tasters,
        correct=right,
        share=tasting.share,
        alpha=tasting.alpha,
        beta=tasting.beta,
    )
    room = f"{percent(found.high_share)} of people like these may taste it"
    most = "no count does" if found.most is None else f"{found.most}"
    return Verdict(
        found.shown,
        found.verdict,
        (f"At most {room} (at a risk of {percent(found.beta)}).",),
        (_ALIKE if found.shown else _NOT_ALIKE, _ONE_BAKE),
        (
            ("Right answers", f"{right} of {tasters}"),
            ("By guessing", f"{_few(tasters * tasting.kind.chance)}"),
            ("At most, to be alike", most),
            ("Exact risk", chance_words(found.risk)),
        ),
        found,
    )


def _few(count: float) -> str:
    return f"{count:.1f}".removesuffix(".0")


def _numbers(tasting: Tasting, found: Difference) -> tuple[tuple[str, str], ...]:
    two = tasting.kind.two_sided
    label = f"Chose {tasting.samples[0]}" if two else "Right answers"
    guess = _few(found.tasters * tasting.kind.chance)
    needed = "no count can" if found.needed is None else f"{found.needed}"
    return (
        (label, f"{found.correct} of {found.tasters}"),
        ("By guessing", guess),
        ("Needed for either" if two else "Needed", needed),
        ("Exact chance", chance_words(found.p_value)),
    )


def _is_right(tasting: Tasting, answer: Answer) -> bool:
    """Whether an answer counts; in a paired test, whether for the one asked about."""
    ((code,),) = answer.places
    sample = tasting.key[code]
    codes = tasting.slip(answer.taster).codes
    if tasting.test == "triangle":
        return [tasting.key[other] for other in codes].count(sample) == 1
    if tasting.test == "duo-trio":
        return sample == tasting.key[codes[0]]
    return sample == (*tasting.expected, *tasting.samples)[0]


def _ranked(tasting: Tasting, answers: Mapping[int, Answer]) -> Verdict:
    if len(answers) < 2:
        raise BakelabError("a ranking is judged from 2 tasters on; enter more answers")
    names = [quoted(name) for name in tasting.samples]
    expected = [tasting.samples.index(n) for n in tasting.expected] or None
    ranks = [_ranks(tasting, answer) for answer in answers.values()]
    found = rank_samples(ranks, expected=expected, alpha=tasting.alpha)
    return Verdict(
        found.shown,
        ranking_headline(found),
        ranking_findings(found, names),
        (*ranking_limits(found, tasting.beta), _ONE_BAKE),
        ranking_numbers(found),
        found,
    )


def _ranks(tasting: Tasting, answer: Answer) -> list[float]:
    """Ranks in the order of `samples`; those that share a place share its mean."""
    by_sample = {}
    before = 0
    for place in answer.places:
        mean = before + (len(place) + 1) / 2
        by_sample.update({tasting.key[code]: mean for code in place})
        before += len(place)
    return [by_sample[name] for name in tasting.samples]


def _with_missing(verdict: Verdict, missing: int, slips: int) -> Verdict:
    if not missing:
        return verdict
    said = (
        f"{missing} of {slips} slips have no answer. If people stayed away because of "
        "what they tasted, the verdict leans."
    )
    return Verdict(
        verdict.shown,
        verdict.headline,
        verdict.findings,
        (*verdict.limits, said),
        verdict.numbers,
        verdict.result,
    )
