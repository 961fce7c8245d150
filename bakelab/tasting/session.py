"""A tasting that is planned: slips for the tasters, and the key kept apart."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from types import MappingProxyType
from typing import Any

from bakelab.errors import BakelabError
from bakelab.tasting.kinds import TestKind, kind_of
from bakelab.tasting.serving import (
    Serving,
    balance_words,
    serving_orders,
)

__all__ = ["LETTERS", "Tasting"]

LETTERS = "ABCDEFGH"


@dataclass(frozen=True)
class Tasting:
    """A plan of a tasting.

    Attributes
    ----------
    test, title, question : str
    samples : tuple of str
        Their names, which no taster may see.
    expected : tuple of str
        In a ranking, all samples in the order expected beforehand; in a one-sided
        paired test the one sample; else empty.
    slips : tuple of Serving
    key : mapping of str to str
        Code to sample; kept apart.
    allergens : str
    cautions : tuple of str
    alpha, beta, share : float
        The risks, and the share of people that the plan was made to find.
    seed : int
        Draws the same slips again.
    reference : str
        In a duo-trio, the sample that is always the reference; else empty.
    formulas : mapping of str to str
        Sample to the content key of its formula, where it is known.
    aim : {"difference", "likeness"}
        What it is planned to show; likeness in a triangle or a duo-trio only.
    """

    test: str
    title: str
    question: str
    samples: tuple[str, ...]
    expected: tuple[str, ...]
    slips: tuple[Serving, ...]
    key: Mapping[str, str]
    allergens: str
    cautions: tuple[str, ...]
    alpha: float
    beta: float
    share: float
    seed: int
    reference: str
    formulas: Mapping[str, str]
    aim: str = "difference"

    @property
    def kind(self) -> TestKind:
        """The test, with its words."""
        return kind_of(self.test)

    @property
    def balance(self) -> str:
        """How evenly the serving orders are used."""
        letter = self.reference and LETTERS[self.samples.index(self.reference)]
        orders = serving_orders(
            self.test, samples=len(self.samples), reference=letter or ""
        )
        return balance_words(len(orders), len(self.slips))

    @property
    def portions(self) -> Mapping[str, int]:
        """Pieces to cut of every sample."""
        served = list(self.key.values())
        return {sample: served.count(sample) for sample in self.samples}

    def slip(self, taster: int) -> Serving:
        """The slip of one taster, by its number."""
        if not 1 <= taster <= len(self.slips):
            raise BakelabError(
                f"there is no slip {taster}; the slips are 1 to {len(self.slips)}"
            )
        return self.slips[taster - 1]

    def choices(self, taster: int) -> tuple[str, ...]:
        """The codes a taster chooses between: all but the reference."""
        codes = self.slip(taster).codes
        return codes[1:] if self.test == "duo-trio" else codes

    def to_data(self) -> dict[str, Any]:
        """Plan and key as plain data that JSON holds."""
        plan = asdict(replace(self, key={}, formulas={}))
        plan["slips"] = {str(s.taster): list(s.codes) for s in self.slips}
        plan["formulas"] = dict(self.formulas)
        del plan["key"]
        return {"kind": self.test, "plan": plan, "key": dict(self.key)}

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "Tasting":
        """The tasting that `to_data` wrote.

        Raises
        ------
        BakelabError
            If this is no such data.
        """
        try:
            plan = dict(data["plan"])
            slips = tuple(
                Serving(int(taster), tuple(codes), plan["allergens"])
                for taster, codes in sorted(
                    plan["slips"].items(), key=lambda item: int(item[0])
                )
            )
            for name in ("samples", "expected", "cautions"):
                plan[name] = tuple(plan[name])
            plan["formulas"] = MappingProxyType(dict(plan["formulas"]))
            key = MappingProxyType(dict(data["key"]))
            return cls(**{**plan, "slips": slips, "key": key})
        except (KeyError, TypeError, ValueError, AttributeError) as error:
            raise BakelabError(
                f"this is no stored tasting ({error}); plan it again"
            ) from None
