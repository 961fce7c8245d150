"""The catalogue of the checks: a plain name that never changes, and what it says."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

__all__ = ["RULES", "Rule"]


@dataclass(frozen=True)
class Rule:
    """A check by its stable identifier, what it compares and what it allows for."""

    identifier: str
    says: str
    allows: str


_DIGITS = "every value that rounds to the digits printed"
_ONE = "one of the two may be the rounded other one"
_RULES = (
    Rule("weight-against-volume", "weight and volume of one line belong together",
         f"{_DIGITS}, any cup in use, the usual band of the ingredient's weight, and "
         "for flour a dipped cup of up to 160 g"),
    Rule("two-weights-of-a-cup", "one ingredient has one weight per cup in a recipe",
         _DIGITS),
    Rule("weight-against-count", "weight and number of pieces belong together",
         f"{_DIGITS}, and the smallest to the largest usual piece"),
    Rule("weight-units", "two units of mass state one mass", _ONE),
    Rule("volume-units", "two units of volume state one volume", f"{_ONE}; any cup"),
    Rule("length-units", "inches and centimetres state one measure", _ONE),
    Rule("temperature-units", "two scales state one temperature",
         f"{_ONE}; 8 °C more for an oven, as dials and tables differ"),
    Rule("ounces-of-what", "ounces by weight and fluid ounces are kept apart", _DIGITS),
    Rule("percent-against-weight", "a stated percentage follows from the weights",
         f"{_DIGITS}; of all flour, of the flour weighed as such, or of its stage"),
    Rule("percent-of-dough", "baker's percentages are of the flour", _DIGITS),
    Rule("flour-is-not-100", "the flours' percentages add up to 100", _DIGITS),
    Rule("total-against-sum", "a stated total is the sum of the lines", _DIGITS),
    Rule("stages-against-overall", "the stages add up to the overall formula",
         f"{_DIGITS}, and half a percent"),
    Rule("percent-bases-mixed", "the percentages of one list have one base", _DIGITS),
    Rule("stated-hydration", "a stated hydration follows from the list",
         "water as written or true hydration, over all or the weighed flour, and the "
         "band of cups"),
    Rule("pieces-against-dough", "pieces times weight is the dough",
         "up to 7 % of the dough may stay on bowl and bench"),
    Rule("dough-weight", "the stated dough is the sum of the lines", _DIGITS),
    Rule("loaf-against-dough", "the stated loaf is the dough less what bakes off",
         "5 to 20 % of the dough bakes off"),
    Rule("loss-arithmetic", "before less after is the stated loss", _DIGITS),
    Rule("pan-holds", "a pan holds no more than the box around it", _DIGITS),
    Rule("pan-against-dough", "the dough suits the pan",
         "the usual band of the style, 15 % more on each side"),
    Rule("oven-cannot-bake", "time and heat of the oven bake a loaf of this depth",
         "four times the usual heating, a tenth more time, 75 °C for the centre"),
    Rule("time-in-all", "the total time holds the waits and the bake",
         "steps at their shortest; a step with a choice is left out"),
    Rule("core-temperature", "a stated centre is that of a baked bread",
         "75 to 100 °C, and 71 °C with egg or dairy"),
    Rule("outside-the-style", "the dough lies in the usual band of its style",
         "cups and spoons, soaked grain, water bound in additions, a title that says "
         "so"),
    Rule("salt-share", "salt is within what bread has", "the band of spoons"),
    Rule("salt-twice", "salt is added once in a stage", "-"),
    Rule("no-salt", "a dough has salt, or the text says that it has none", "-"),
    Rule("line-twice", "a line is not printed twice", "-"),
    Rule("yeast-against-amount", "the amount suits the kind of yeast",
         "twice the highest usual amount; one packet more where packets are given"),
    Rule("preferment-against-parts", "no more of a preferment is used than is made",
         _DIGITS),
    Rule("not-in-the-method", "what is listed is used", "collective words count"),
    Rule("only-in-the-method", "what is used is listed", "dusting and greasing do not"),
    Rule("more-than-listed", "no step takes more than the list has",
         f"{_DIGITS}, 3 %, and all lines of the kind together"),
    Rule("held-back", "what is held back is used later", "-"),
    Rule("spoon-letter", "T and t are spelt out", "-"),
    Rule("egg-size", "an egg has a size or a weight", "-"),
    Rule("cups-in-this-market", "measures that the market's kitchens have", "-"),
    Rule("amount-missing", "an ingredient has an amount", "-"),
    Rule("no-pan-size", "a pan that is named has its size", "-"),
    Rule("no-oven-temperature", "a bread that is baked has an oven setting", "-"),
    Rule("no-bake-time", "a bread that is baked has a time", "-"),
    Rule("no-yield", "a recipe says what it makes", "-"),
    Rule("salt-of-a-serving", "salt in the baked bread beside a published target",
         "10 to 12 % bake loss"),
    Rule("free-from", "nothing listed is what the text says it is free from", "-"),
    Rule("standard-of-identity", "a name with a legal meaning fits the formula",
         "the band of cups and spoons"),
)  # fmt: skip

#: Every check by its identifier.
RULES: Mapping[str, Rule] = MappingProxyType({r.identifier: r for r in _RULES})
