"""The usual cautions that a formula and its pans call for.

They are common practice of kitchens, no source, but for one number: "gluten-free"
in the United States means under 20 mg/kg (21 CFR 101.91). None of them stands in
for the rules of the place where the bread is made or sold.
"""

import math
from collections.abc import Iterable, Iterator, Sequence

from bakelab.formula import Formula, require_formula
from bakelab.pans import Pan
from bakelab.ranges import Band, band, styles

__all__ = ["cautions"]

GLUTEN_FREE_MG_KG = 20  # 21 CFR 101.91(a)(3)
RICH_PCT = 5.0  # egg, or dairy, of flour; our own choice
_LIDDED_STYLE = "sandwich_lidded"
_RISES_LITTLE = {"rye", "gluten-free", "quick"}
_WORDS = {
    "glutenfree": ("gluten-free", "gluten free", "glutenfrei", "sans gluten"),
    "honey": ("honey", "honig", "miel"),
}
_GLUTEN = {"gluten", "wheat"}


def cautions(formula: Formula, pans: Iterable[Pan] = ()) -> tuple[str, ...]:
    """Cautions that are due, the most general first.

    Parameters
    ----------
    formula : Formula
        As it will be weighed.
    pans : iterable of Pan
        The pans that it will be baked in.

    Returns
    -------
    tuple of str
        Each begins with its subject and a colon.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("water", 330)])
    >>> cautions(dough)[0].partition(":")[0]
    'Raw dough'
    """
    require_formula(formula)
    baked_in = tuple(pans)
    found = [
        *_raw(formula),
        *_rich(formula),
        *_lidded(formula, baked_in),
        *_allergens(formula),
        *_gluten_free(formula),
        *_honey(formula),
    ]
    return tuple(found)


def _raw(formula: Formula) -> Iterator[str]:
    flour, egg = formula.flour_g > 0, formula.role_g("egg") > 0
    if not (flour or egg):
        return
    what = "flour and egg are" if flour and egg else "flour is" if flour else "egg is"
    yield (
        f"Raw dough: do not taste it before it is baked; raw {what} not safe to eat. "
        "Wash hands, bowls and boards with hot soapy water"
        + (", and keep eggs cold until they go in." if egg else ".")
    )


def _rich(formula: Formula) -> Iterator[str]:
    shares = {n: formula.role_g(n) for n in ("egg", "dairy")}
    rich = [
        n
        for n, mass_g in shares.items()
        if mass_g > 0 and 100 * mass_g >= RICH_PCT * formula.flour_g
    ]
    if rich:
        yield (
            f"Rich in {' and '.join(rich)}: colour says nothing about the centre. "
            "A clean probe in the middle of the loaf decides; follow your local "
            "food-safety rules for the temperature and how long to hold it."
        )


def _lidded(formula: Formula, pans: Sequence[Pan]) -> Iterator[str]:
    lidded = [p for p in pans if p.lidded]
    if not lidded:
        return
    yield (
        "Hot pan with a lid: open it with dry oven gloves and away from you, steam "
        "comes out first. Never fill it over the usual: rising dough pushes against "
        "the lid and can jam it or force it off."
    )
    usual = _usual_loading(formula.style)
    loading = _loading(formula, pans)
    if usual is not None and loading < usual.low:
        yield (
            f"Filled over the usual: {loading:.2f} cm³ of pan for each gram of dough; "
            f"with a lid {usual.text} is usual (common practice, no source). "
            "Take less dough, or leave the lid off."
        )


def _loading(formula: Formula, pans: Sequence[Pan]) -> float:
    """Pan volume over dough in cm³/g; without end where it cannot be told."""
    if not (formula.dough_g > 0 and all(p.lidded and p.has_volume for p in pans)):
        return math.inf
    total = sum(float(p.total_volume.to("cm^3").magnitude) for p in pans)
    return total / formula.dough_g


def _usual_loading(style: str) -> Band | None:
    """The style's own band if it rises little, else that of lidded pans."""
    table = styles()
    family = table.loc[table["style"] == style, "family"]
    own = style if set(family) & _RISES_LITTLE else _LIDDED_STYLE
    return band(own, "loading_cm3_g") or band(_LIDDED_STYLE, "loading_cm3_g")


def _allergens(formula: Formula) -> Iterator[str]:
    known, unknown = formula.allergens(), tuple(dict.fromkeys(formula.unknown))
    listed = ", ".join(known) if known else "none found, which proves nothing"
    text = f"Allergens, by the ingredient table: {listed}."
    if unknown:
        text += f" Not in the table, so not looked up: {', '.join(unknown)}."
    yield (
        f"{text} Read every pack, also for traces; what must be declared, and in which "
        "words, is set by your local labelling rules."
    )


def _gluten_free(formula: Formula) -> Iterator[str]:
    said = _says(formula, "glutenfree") or "gluten_free" in formula.style
    without = not _GLUTEN & set(formula.allergens())
    if said and not without:
        yield (
            "Not gluten-free: the recipe says so, but its ingredients hold gluten "
            f"({', '.join(sorted(_GLUTEN & set(formula.allergens())))})."
        )
    elif said or (without and not formula.unknown and formula.flour_g > 0):
        yield (
            "Gluten: a formula without gluten is no gluten-free claim. Flour, oats and "
            "boards pick up gluten; the claim has a legal limit (in the United States "
            f"under {GLUTEN_FREE_MG_KG} mg/kg, 21 CFR 101.91) and your local rules "
            "decide."
        )


def _honey(formula: Formula) -> Iterator[str]:
    if any(_has_word(f"{r.ingredient} {r.label}", "honey") for r in formula.rows):
        yield "Honey: not for children under 12 months, baked or not."


def _says(formula: Formula, word: str) -> bool:
    return _has_word(f"{formula.title} {formula.style} {formula.notes}", word)


def _has_word(text: str, word: str) -> bool:
    lower = text.casefold().replace("_", " ")
    return any(w in lower for w in _WORDS[word])
