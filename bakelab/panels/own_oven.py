"""Whose heat counts: the recipe's own bake, or an oven learned from the bake book."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bakelab.oven import Oven
from bakelab.panels.controls import choice

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook
    from bakelab.bakebook.house_oven import HouseOven

__all__ = ["Heat", "OwnOven"]


@dataclass(frozen=True)
class Heat:
    """What the oven really does, and how hard it heats where that is known."""

    setting: Oven
    heating: float | None


class OwnOven:
    """A choice of ovens of the book; hidden where the book knows none.

    `said` is what has to be told of the oven that was chosen.
    """

    def __init__(self, book: "BakeBook | None") -> None:
        self._book = book
        self._learned: dict[str, HouseOven] = {}
        names = () if book is None else _ovens(book)
        options = [("as the recipe's own bake shows", "")]
        options += [(f"my {name}, from the bake book", name) for name in names]
        self.control: Any = choice("Heat of the oven", options)
        self.control.layout.display = "" if names else "none"
        self.said: tuple[str, ...] = ()

    def heat(self, dial: Oven) -> Heat:
        """The heat for a setting of the dial, learned when first asked for.

        Raises
        ------
        BookError
            If the oven cannot be learned from the book.
        """
        self.said = ()
        name = str(self.control.value)
        if not name or self._book is None:
            return Heat(dial, None)
        if name not in self._learned:
            from bakelab.bakebook.house_oven import house_oven

            self._learned[name] = house_oven(self._book, name, newest=8)
        own = self._learned[name]
        shift = -own.offset_k
        turn = f"{abs(shift):.0f} K {'higher' if shift >= 0 else 'lower'}"
        self.said = (
            f"{own.text}; the recipe's time is not used",
            f"temperatures are the oven's real ones: set its dial {turn}",
        )
        return Heat(own.setting(dial), own.heating)


def _ovens(book: "BakeBook") -> tuple[str, ...]:
    from bakelab.bakebook.house_oven import ovens_of

    return ovens_of(book)
