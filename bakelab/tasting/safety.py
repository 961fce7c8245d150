"""What stands on every slip so that nobody is hurt: allergens and cautions."""

from collections.abc import Iterable, Sequence

from bakelab.formula import Formula

__all__ = ["allergen_line", "tasting_cautions"]

_ALWAYS = (
    (
        "Do not taste if you are allergic or intolerant to anything named here, or "
        "feel unwell; you may stop at any time."
    ),
    (
        "Only loaves baked through and cooled are tasted: leave a piece that is raw or "
        "doughy inside, and say so."
    ),
)
_HONEY = ("honey", "honig", "miel")


def allergen_line(formulas: Sequence[Formula] = (), more: str = "") -> str:
    """What all samples together contain, since nobody knows which is which.

    Parameters
    ----------
    formulas : sequence of Formula
        Of the samples; allergens come from the table of ingredients.
    more : str
        What is known besides, separated by commas.

    Examples
    --------
    >>> allergen_line([Formula.from_pairs([("wheat_bread", 500), ("water", 330)])])
    'Contains: gluten, wheat. Traces of others are possible: ask before you taste.'
    >>> allergen_line()
    'Allergens: not stated. Ask before you taste.'
    """
    found = {a for formula in formulas for a in formula.allergens()}
    said = {word.strip() for word in more.split(",") if word.strip()}
    known = [*sorted(found), *sorted(said - found)]
    unknown = dict.fromkeys(u for formula in formulas for u in formula.unknown)
    if not known and not unknown:
        if formulas:
            return (
                "Allergens: none found in the table of ingredients, which proves "
                "nothing. Ask before you taste."
            )
        return "Allergens: not stated. Ask before you taste."
    text = f"Contains: {', '.join(known)}." if known else "Allergens: none found."
    if unknown:
        text += f" Not looked up: {', '.join(unknown)}."
    return f"{text} Traces of others are possible: ask before you taste."


def tasting_cautions(formulas: Iterable[Formula] = ()) -> tuple[str, ...]:
    """Cautions for everybody who tastes; common practice, no source.

    What must be told about allergens, and how, is set by local rules.
    """
    every = [*_ALWAYS]
    words = " ".join(
        f"{row.ingredient} {row.label}" for formula in formulas for row in formula.rows
    ).casefold()
    if any(name in words for name in _HONEY):
        every.append("Contains honey: not for children under 12 months.")
    return tuple(every)
