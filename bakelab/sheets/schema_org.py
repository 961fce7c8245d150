"""A formula as a schema.org `Recipe`, plain data for JSON-LD.

schema.org has no field for a baker's percentage, a dough temperature, a pan or an
oven setting. They stand here where the vocabulary takes a `PropertyValue` (in the
`QuantitativeValue` of a supply or of the yield), a `HowToTool`, or the text of a
step. No diet is claimed (`suitableForDiet`): that is for a person who knows the
packs and the law to add.

References
----------
schema.org release 30.0 (19 March 2026): Recipe, HowTo, HowToSupply, HowToTool,
QuantitativeValue, PropertyValue. Unit codes: UN/CEFACT Recommendation 20.
"""

from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias

from bakelab.formula import Formula, Row, require_flour
from bakelab.pans import Pan
from bakelab.scaling import Fitted
from bakelab.sheets.cautions import cautions
from bakelab.units import Quantity, in_unit

__all__ = ["to_schema_org"]

Node: TypeAlias = dict[str, Any]

GRAM, PERCENT, CELSIUS, CUBIC_CM = "GRM", "P1", "CEL", "CMQ"


def to_schema_org(
    what: Formula | Fitted, *, dough_temperature: Quantity | None = None
) -> Node:
    """The formula as a schema.org `Recipe`.

    Parameters
    ----------
    what : Formula or Fitted
        Of a fitted one the new weights and pans are given; its baking time
        stays in words, as written for the recipe's own pan.
    dough_temperature : Quantity, [temperature], optional
        Wanted at the end of mixing.

    Returns
    -------
    dict
        Ready for `json.dumps`; weights in whole tenths of a gram.

    Raises
    ------
    FormulaError
        If there is no formula, or no flour in it.
    """
    fitted = what if isinstance(what, Fitted) else None
    formula = what.formula if isinstance(what, Fitted) else what
    require_flour(formula)
    dough_c = None
    if dough_temperature is not None:
        dough_c = in_unit(dough_temperature, "degC", "dough_temperature")
    pans = fitted.to_pans if fitted else ()
    recipe: Node = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": formula.title or "Bread formula",
        "inLanguage": formula.language,
        "recipeIngredient": [_ingredient(r, formula) for r in formula.rows],
        "supply": [_supply(r, formula) for r in formula.rows],
        "recipeYield": _yield(formula, dough_c),
        "tool": _tools(formula, pans),
        "recipeInstructions": _steps(formula, fitted, dough_c),
        "description": formula.notes,
        "cookTime": _cook_time(formula, fitted),
    }
    return {
        name: value for name, value in recipe.items() if value not in ("", [], None)
    }


def _ingredient(row: Row, formula: Formula) -> str:
    stage = f" ({row.stage})" if len(formula.stages) > 1 else ""
    return f"{_tenths(row.mass_g):g} g {row.label}{stage}"


def _supply(row: Row, formula: Formula) -> Node:
    pct = 100 * row.mass_g / formula.flour_g
    quantity = _quantity(_tenths(row.mass_g), GRAM, "g")
    quantity["additionalProperty"] = [
        _property("baker's percentage", round(pct, 2), PERCENT, "% of flour")
    ]
    return {"@type": "HowToSupply", "name": row.label, "requiredQuantity": quantity}


def _yield(formula: Formula, dough_c: float | None) -> Node:
    quantity = _quantity(_tenths(formula.dough_g), GRAM, "g of dough")
    properties = [
        _property("flour", _tenths(formula.flour_g), GRAM, "g"),
        _property(
            "true hydration", round(formula.hydration_pct, 2), PERCENT, "% of flour"
        ),
        _property(
            "water as written", round(formula.water_pct, 2), PERCENT, "% of flour"
        ),
    ]
    if dough_c is not None:
        properties.append(
            _property("dough temperature", round(dough_c, 1), CELSIUS, "°C")
        )
    quantity["additionalProperty"] = properties
    if formula.stated_yield:
        quantity["description"] = f"as written: {formula.stated_yield}"
    return quantity


def _tools(formula: Formula, pans: Sequence[Pan]) -> list[Node]:
    if not pans and formula.stated_pan:
        return [{"@type": "HowToTool", "name": formula.stated_pan}]
    return [_tool(p) for p in pans]


def _tool(pan: Pan) -> Node:
    tool: Node = {"@type": "HowToTool", "name": pan.text or pan.text_spec}
    if pan.has_volume:
        volume = round(float(pan.volume.to("cm^3").magnitude))
        quantity = _quantity(pan.count, "C62", "pans" if pan.count > 1 else "pan")
        quantity["additionalProperty"] = [
            _property("volume to the rim of one", volume, CUBIC_CM, "cm³")
        ]
        tool["requiredQuantity"] = quantity
    return tool


def _steps(
    formula: Formula, fitted: Fitted | None, dough_c: float | None
) -> list[Node]:
    texts = [_weighing(stage, formula) for stage in formula.stages]
    if dough_c is not None:
        texts.append(f"Bring the dough to {dough_c:.1f} °C at the end of mixing.")
    texts += _baking(formula, fitted)
    tips = cautions(formula, fitted.to_pans if fitted else ())
    return [
        *({"@type": "HowToStep", "text": text} for text in texts),
        *({"@type": "HowToTip", "text": text} for text in tips),
    ]


def _weighing(stage: str, formula: Formula) -> str:
    parts = [
        f"{_tenths(r.mass_g):g} g {r.label}" for r in formula.rows if r.stage == stage
    ]
    return f"Weigh for the {stage}: {', '.join(parts)}."


def _baking(formula: Formula, fitted: Fitted | None) -> Iterable[str]:
    parts = [formula.oven] if formula.oven else []
    minutes = (fitted.original if fitted else formula).bake_minutes
    if minutes is not None:
        low, high = minutes
        parts.append(
            f"{low:g} minutes" if low == high else f"{low:g} to {high:g} minutes"
        )
    if not parts:
        return []
    text = f"Bake, as written: {', '.join(parts)}."
    if fitted and fitted.to_pans:
        text += " In the new pan time and heat will differ; let a core probe decide."
    return [text]


def _cook_time(formula: Formula, fitted: Fitted | None) -> str | None:
    """ISO 8601 duration, only where one time is stated and the pan is the same."""
    if fitted or formula.bake_minutes is None:
        return None
    low, high = formula.bake_minutes
    return f"PT{round(low)}M" if low == high else None


def _quantity(value: float, code: str, unit: str) -> Node:
    return {
        "@type": "QuantitativeValue",
        "value": value,
        "unitCode": code,
        "unitText": unit,
    }


def _property(name: str, value: float, code: str, unit: str) -> Node:
    return {
        "@type": "PropertyValue",
        "name": name,
        "value": value,
        "unitCode": code,
        "unitText": unit,
    }


def _tenths(mass_g: float) -> float:
    """Tenths of a gram; hundredths under 10 g, where a tenth is coarse."""
    return round(mass_g, 1 if mass_g >= 10 else 2)
