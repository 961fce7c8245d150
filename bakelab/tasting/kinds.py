"""The tests that can be planned: what is served, what is asked, what guessing gives."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from bakelab.errors import BakelabError

__all__ = ["MOST_RANKED", "MOST_TASTERS", "TESTS", "TestKind", "kind_of"]

MOST_RANKED = 8
"""Samples that one person ranks at a sitting; common practice, no source."""
MOST_TASTERS = 300
"""As many as three-digit codes serve with three samples each."""


@dataclass(frozen=True)
class TestKind:
    """One test.

    Attributes
    ----------
    name, label, standard : str
    chance : float
        Share of right answers if everybody guesses; 0 in ranking.
    two_sided : bool
        Whether either sample may be chosen more often.
    asks, task : str
        What the tasters are asked if nothing else is (nothing where the question
        has to be given), and what they do.
    use : str
        When this test is the right one.
    """

    name: str
    label: str
    standard: str
    chance: float
    two_sided: bool
    asks: str
    task: str
    use: str

    @property
    def ranks(self) -> bool:
        """Whether the samples are put in an order."""
        return self.chance == 0.0


_KINDS = (
    TestKind(
        "triangle",
        "Triangle: which of three is the odd one",
        "ISO 4120",
        1 / 3,
        False,
        "Which sample is different from the other two?",
        "Two of the three samples are the same and one is different. Taste them from "
        "left to right and tick the odd one. If you are not sure, guess.",
        "Is there any difference at all, whatever it may be?",
    ),
    TestKind(
        "duo-trio",
        "Duo-trio: which of two is like the reference",
        "ISO 10399",
        1 / 2,
        False,
        "Which sample is the same as the reference?",
        "Taste the reference first, then the two samples from left to right. One of "
        "them is the same as the reference: tick it. If you are not sure, guess.",
        "Is there any difference, when one loaf is well known or three at once tire?",
    ),
    TestKind(
        "paired",
        "Paired, one-sided: is the expected one chosen",
        "ISO 5495",
        1 / 2,
        False,
        "",
        "Taste the two samples from left to right and tick the one that answers the "
        "question. If you are not sure, guess.",
        "Is the loaf that must be saltier (say) tasted as saltier? The expectation "
        "has to be there before the tasting.",
    ),
    TestKind(
        "paired two-sided",
        "Paired, two-sided: which of two",
        "ISO 5495",
        1 / 2,
        True,
        "Which sample do you like better?",
        "Taste the two samples from left to right and tick the one that answers the "
        "question. If you are not sure, guess.",
        "Which of two is sweeter, or liked better, when either could be?",
    ),
    TestKind(
        "ranking",
        "Ranking: three to eight in order",
        "ISO 8587",
        0.0,
        False,
        "Put the samples in order, the one you like best first.",
        "Taste the samples from left to right, then write their codes in order. You "
        "may taste again. Samples you cannot tell apart share a place.",
        "How do several loaves stand on one question?",
    ),
)

TESTS: Mapping[str, TestKind] = MappingProxyType({kind.name: kind for kind in _KINDS})
"""Every test by its name."""


def kind_of(test: str) -> TestKind:
    """The test of that name.

    Raises
    ------
    BakelabError
        If there is none.
    """
    if not isinstance(test, str) or test not in TESTS:
        raise BakelabError(f"got the test {test!r}; choose from {', '.join(TESTS)}")
    return TESTS[test]
