"""Eggs by the piece: whole ones where it can be, grams always."""

from dataclasses import dataclass

from bakelab.errors import UnknownIngredientError
from bakelab.formula import Formula
from bakelab.ingredients import ingredient, is_ingredient

__all__ = ["EGG_SIZE", "EggCount", "count_eggs", "eggs_of"]

EGG_SIZE = "large"
WHOLE_LIMIT_PCT = 10.0  # our own: whole eggs where they miss by no more than this
_SIZES = ("small", "medium", "large", "extra large", "jumbo")
_PIECES = {"egg_whole": "egg", "egg_yolk": "egg yolk", "egg_white": "egg white"}


@dataclass(frozen=True)
class EggCount:
    """Eggs of one size beside the grams that a formula wants.

    `count` is 0 where no whole number of eggs comes within 10 %; the rest is
    then weighed from a beaten one.
    """

    size: str
    count: int
    each_g: float
    wanted_g: float
    text: str

    @property
    def mass_g(self) -> float:
        """What the whole eggs weigh, g."""
        return self.count * self.each_g

    @property
    def off_pct(self) -> float:
        """How far the whole eggs miss the grams wanted, in percent."""
        return 100 * (self.mass_g / self.wanted_g - 1)


def count_eggs(key: str, mass_g: float, *, size: str = EGG_SIZE) -> EggCount | None:
    """How many eggs, yolks or whites of a size a mass is.

    Parameters
    ----------
    key : str
        ``egg_whole``, ``egg_yolk`` or ``egg_white``; others give None.
    mass_g : float
        Without shell, g.
    size : str
        Of the egg; "large" is assumed.

    Raises
    ------
    UnknownIngredientError
        If there is no such size in the table; names the sizes.

    Examples
    --------
    >>> count_eggs("egg_whole", 96).text
    '2 large eggs (100 g of 96 g)'
    """
    if key not in _PIECES or not mass_g > 0 or not is_ingredient(key):
        return None
    portions = ingredient(key).portions
    if size not in portions:
        sizes = ", ".join(s for s in _SIZES if s in portions)
        raise UnknownIngredientError(f"no egg size {size!r}; choose one of {sizes}")
    each = portions[size]
    count = round(mass_g / each)
    if count and abs(count * each / mass_g - 1) * 100 > WHOLE_LIMIT_PCT:
        count = 0
    text = _text(count, size, _PIECES[key], each, mass_g)
    return EggCount(size, count, each, mass_g, text)


def eggs_of(formula: Formula, *, size: str = EGG_SIZE) -> tuple[EggCount, ...]:
    """The eggs of every egg row of a formula, in its order.

    A size that yolks or whites are not tabled in falls back to "large".
    """
    counts = (
        count_eggs(r.ingredient, r.mass_g, size=_tabled(r.ingredient, size))
        for r in formula.rows
    )
    return tuple(count for count in counts if count is not None)


def _tabled(key: str, size: str) -> str:
    if key in ("egg_yolk", "egg_white") and is_ingredient(key):
        return size if size in ingredient(key).portions else EGG_SIZE
    return size


def _text(count: int, size: str, piece: str, each_g: float, mass_g: float) -> str:
    if count:
        ending = "" if count == 1 else "s"
        return (
            f"{count} {size} {piece}{ending} "
            f"({count * each_g:.4g} g of {_short(mass_g)} g)"
        )
    whole = int(mass_g / each_g)
    rest = _short(mass_g - whole * each_g)
    if not whole:
        return f"{rest} g of one beaten {size} {piece} of {each_g:g} g"
    ending = "" if whole == 1 else "s"
    return (
        f"{_short(mass_g)} g: {whole} {size} {piece}{ending} of {each_g:g} g and "
        f"{rest} g of another, beaten"
    )


def _short(mass_g: float) -> str:
    return f"{mass_g:.1f}".removesuffix(".0")
