"""Which stages belong to the dough, which ferment first, and what rows hold."""

import re
import unicodedata

from bakelab.formula import Formula, Row
from bakelab.ingredients import Ingredient, ingredient, is_ingredient

__all__ = ["dough_only", "flour_inside", "is_preferment", "known", "words_of"]

_NOT_DOUGH = re.compile(
    r"\b(?:"
    "topping|filling|glaze|icing|frosting|egg wash|wash|streusel|crumble|coating|"
    "sauce|dusting|finish|fullung|belag|guss|glasur|bestreichen|garniture|"
    "glacage|dorure|finition"
    ")"
)
_NOT_FERMENTED = re.compile(
    r"\b(?:"
    "soaker|scald|tangzhong|roux|autolyse|quellstuck|bruhstuck|kochstuck|mehlkoch|"
    "trempage|empois"
    ")"
)
_PREFERMENT = re.compile(
    r"\b(?:"
    "poolish|biga|sponge|preferment|pre ferment|levain|leaven|starter|sour|"
    "old dough|pate fermentee|vorteig|sauerteig|anstellgut|vorstufe|pouliche"
    ")"
)
_MAIN = re.compile(r"\b(?:dough|teig|hauptteig|pate|final|main)")


def dough_only(formula: Formula) -> Formula:
    """The formula without its toppings, fillings and washes."""
    kept = [r for r in formula.rows if not _mentions(r.stage, _NOT_DOUGH)]
    if not kept or len(kept) == len(formula.rows):
        return formula
    return formula.with_rows(kept)


def is_preferment(formula: Formula, stage: str) -> bool:
    """Whether a stage ferments before the dough; one stage alone does not."""
    if len(formula.stages) == 1 or _mentions(stage, _NOT_FERMENTED):
        return False
    if _mentions(stage, _PREFERMENT):
        return True
    roles = {r.role for r in formula.rows if r.stage == stage}
    last = stage == formula.stages[-1]
    ferments = "flour" in roles and bool(roles & {"yeast", "starter"})
    return ferments and not (last or _mentions(stage, _MAIN))


def flour_inside(row: Row) -> float:
    """Grams of flour in a row of flour or starter, else 0."""
    if row.role == "flour":
        return row.mass_g
    if row.role == "starter":
        hydration = 100.0 if row.hydration_pct is None else row.hydration_pct
        return row.mass_g / (1 + hydration / 100)
    return 0.0


def known(row: Row) -> Ingredient | None:
    """The row's ingredient, None outside the table."""
    return ingredient(row.ingredient) if is_ingredient(row.ingredient) else None


def words_of(text: str) -> tuple[str, ...]:
    """Lower-case words of a text, without accents, `ß` as `ss`."""
    plain = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("œ", "oe"))
    letters = "".join(c for c in plain if not unicodedata.combining(c))
    return tuple(re.findall(r"[a-z0-9]+", letters.lower()))


def _mentions(stage: str, words: re.Pattern[str]) -> bool:
    return words.search(" ".join(words_of(stage))) is not None
