"""What the text calls the bread, beside published standards and salt targets."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval
from bakelab.checking.shares import Part
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.nutrition import NOT_A_LABEL, Nutrition, nutrition, salt_target

__all__ = ["find_claims", "find_free_from", "find_serving_salt"]

_LOCAL = "Check your local rules before you use the name."
_FREE = {
    "gluten-free": (r"gluten[- ]?free|glutenfrei|sans gluten", ("gluten", "wheat")),
    "dairy-free": (r"dairy[- ]?free|milk[- ]?free|milchfrei|sans lait", ("milk",)),
    "egg-free": (r"egg[- ]?free|eifrei|sans œufs?|eggless", ("egg",)),
    "nut-free": (r"nut[- ]?free", ("tree nuts", "peanut")),
    "soy-free": (r"soy[- ]?free", ("soy",)),
    "vegan": (r"vegan\w*|végan\w*", ("milk", "egg")),
}
_NOT = re.compile(r"(?i)(option|or |if you|to make (?:it|this)|version|variation|"
    r"can be|"
                  r"not |non-|instead|substitut|for a )")  # fmt: skip
_WHOLE = re.compile(
    r"(?i)^\W*(?:100\s?%\s*)?(?:whole[- ]?wheat|wholewheat|graham)\b"
    r"(?!.*\b(?:part|half|"
    r"light)\b)"
)
_PART = re.compile(r"(?i)\b(part|half|light|white|blend|seeded)\b")
_MILK = re.compile(r"(?i)\bmilk (?:bread|loaf|rolls|buns)\b")
_RAISIN = re.compile(r"(?i)\braisin (?:bread|loaf|rolls|buns)\b")
_EGG = re.compile(r"(?i)\begg (?:bread|loaf|rolls|buns)\b")
# 21 CFR 136 as published: .115(b) whole-egg solids 2.56 %; .130 8.2 parts milk solids
# per 100 of flour; .160 raisins 50 per 100 of flour; .180 whole-wheat flour only.
_EGG_SOLIDS_PCT, _MILK_SOLIDS, _RAISINS = 2.56, 8.2, 50.0
_LOSS = (0.10, 0.12)  # of the dough; Gisslen, Professional Baking, ch. 6, converted


def find_free_from(case: Case) -> Iterator[Finding]:
    """Findings `free-from`: a claim in the title against the list's allergens.

    Only what the title or the first lines claim; "or gluten-free flour" and
    other options are no claim. What a mill or brand adds is not known here.
    """
    title = case.recipe.title
    for name, (words, allergens) in _FREE.items():
        match = re.search(rf"(?i)\b(?:{words})\b", title)
        if match is None or _is_option(title, match):
            continue
        lines = [
            (e, hit)
            for e in case.entries
            if is_ingredient(e.line.ingredient)
            and not re.search(rf"(?i)\b(?:{words})\b", e.clean)
            and (hit := set(allergens) & set(ingredient(e.line.ingredient).allergens))
        ]
        lines = [pair for pair in lines if not _plant(pair[0].clean)]
        if lines:
            yield _not_free(name, case.quote(title), lines[0][0].quote,
                            [e.name for e, _ in lines])  # fmt: skip


def _is_option(title: str, match: re.Match[str]) -> bool:
    before = title[max(0, match.start() - 14) : match.start()]
    after = title[match.end() : match.end() + 14]
    return _NOT.search(before) is not None or _NOT.search(after) is not None


def _plant(text: str) -> bool:
    said = (
        r"(?i)\b(vegan|plant|oat milk|soy milk|almond|coconut|rice milk|gluten[- ]free)"
    )
    return re.search(said, text) is not None


def _not_free(name: str, title: Quote, line: Quote, names: list[str]) -> Finding:
    return Finding(
        "free-from",
        "conflict",
        f"the title says {name}, and the list has {', '.join(names)}",
        (title, line),
        (f"{', '.join(names)} usually holds what {name} excludes",),
        "Change the ingredient or the title; a wrong claim can make people ill.",
        "high",
        "allergens in the table of ingredients; in the US gluten-free is under 20 ppm "
        f"(21 CFR 101.91). {_LOCAL}",
    )


def find_claims(case: Case) -> Iterator[Finding]:
    """Findings `standard-of-identity`: names that the US regulates, as a note."""
    formula, title = case.formula, case.recipe.title
    if formula is None or formula.flour_g <= 0 or case.recipe.language != "en":
        return
    parts = case.parts
    if _WHOLE.search(title) and not _PART.search(title):
        yield from _whole(case, parts)
    if _MILK.search(title):
        yield from _milk(case, parts)
    if _RAISIN.search(title):
        yield from _raisin(case, parts)
    if _EGG.search(title):
        yield from _egg(case, parts)


def _note(case: Case, message: str, working: tuple[str, ...], source: str) -> Finding:
    return Finding(
        "standard-of-identity", "note", message, (case.quote(case.recipe.title),),
        working, f"It matters only for bread that is sold. {_LOCAL}", "medium", source,
    )  # fmt: skip


def _whole(case: Case, parts: tuple[Part, ...]) -> Iterator[Finding]:
    other = [p for p in parts if p.role == "flour" and "whole" not in p.line.ingredient
             and "graham" not in p.line.ingredient]  # fmt: skip
    flour = sum(p.flour * p.mid_g for p in parts)
    if other:
        share = 100 * sum(p.mid_g for p in other) / flour
        yield _note(
            case, f"whole-wheat bread, and {share:.0f} % of the flour is another",
            tuple(f"{p.line.text}: {p.mid_g:.4g} g" for p in other),
            "21 CFR 136.180: whole-wheat bread has whole-wheat flour only",
        )  # fmt: skip


def _share(parts: list[tuple[Part, float]], flour: Interval) -> Interval:
    low = sum(p.low_g * each for p, each in parts)
    high = sum(p.high_g * each for p, each in parts)
    return Interval(100 * low / flour.high, 100 * high / flour.low)


def _flour(parts: tuple[Part, ...]) -> Interval:
    return Interval(sum(p.flour * p.low_g for p in parts),
                    sum(p.flour * p.high_g for p in parts))  # fmt: skip


def _solids(part: Part) -> float:
    return 1 - ingredient(part.line.ingredient).water_g / 100


def _milk(case: Case, parts: tuple[Part, ...]) -> Iterator[Finding]:
    milk = [
        (p, _solids(p))
        for p in parts
        if p.role == "dairy" and p.line.ingredient.startswith(("milk", "butter"))
    ]
    share = _share(milk, _flour(parts))
    water = [p for p in parts if p.role == "water"]
    if share.high >= _MILK_SOLIDS or (milk and not water):
        return
    yield _note(
        case, f"milk bread, {share.high:.1f} parts of milk solids per 100 of flour",
        (f"milk solids {share.text('per 100 of flour')}; 8.2, or milk alone, asked",),
        "21 CFR 136.130",
    )  # fmt: skip


def _raisin(case: Case, parts: tuple[Part, ...]) -> Iterator[Finding]:
    fruit = [(p, 1.0) for p in parts if "raisin" in p.line.ingredient
             or "sultana" in p.line.ingredient]  # fmt: skip
    share = _share(fruit, _flour(parts))
    if fruit and share.high < _RAISINS:
        yield _note(
            case, f"raisin bread, {share.high:.0f} parts of raisins per 100 of flour",
            (f"raisins {share.text('per 100 of flour')}, the standard has 50",),
            "21 CFR 136.160, as quoted in a Japanese translation",
        )  # fmt: skip


def _egg(case: Case, parts: tuple[Part, ...]) -> Iterator[Finding]:
    eggs = [(p, _solids(p)) for p in parts if p.role == "egg"]
    dough = Interval(sum(p.low_g for p in parts), sum(p.high_g for p in parts))
    bread = Interval(dough.low * (1 - _LOSS[1]), dough.high * (1 - _LOSS[0]))
    share = _share(eggs, bread)
    if share.high < _EGG_SOLIDS_PCT:
        yield _note(
            case, f"egg bread with {share.high:.1f} % of egg solids",
            (f"egg solids over bread {share.text('%')}, the standard has 2.56 %",),
            "21 CFR 136.115(b)",
        )  # fmt: skip


def find_serving_salt(case: Case) -> Iterator[Finding]:
    """Findings `salt-of-a-serving`: salt of the bread beside a published target."""
    formula = case.formula
    if formula is None or formula.flour_g <= 0 or case.unweighed:
        return
    if not any(e.line.role == "salt" for e in case.dough):
        return
    target, loss_pct = salt_target(), (100 * _LOSS[0], 100 * _LOSS[1])
    found = nutrition(formula, loss_pct=loss_pct)
    salt = _with_lines(case, found.per_100_g("salt_g"))
    if salt.low > target.salt_g:
        yield _much_salt(case, salt, found)


def _much_salt(case: Case, salt: Interval, found: Nutrition) -> Finding:
    target = salt_target()
    each = found.per_serving("salt_g")
    lighter = "10 to 12 % lighter than the dough"
    working = [f"salt of all lines in the bread, {lighter}: {salt.text('g per 100 g')}"]
    if each is not None:
        working.append(f"of what it makes, one has {each[0]:.2g} g of salt")
    return Finding(
        "salt-of-a-serving",
        "note",
        f"about {(salt.low + salt.high) / 2:.1f} g of salt in 100 g of bread; a "
        f"published target is {target.salt_g:g} g",
        tuple(e.quote for e in case.dough if e.line.role == "salt"),
        (*working, NOT_A_LABEL),
        "Less salt is possible down to about 1.5 % of the flour without the dough "
        "changing much; taste it.",
        "low",
        f"target {target.year}, {target.name}: {target.source}",
    )


def _with_lines(case: Case, middle: tuple[float, float]) -> Interval:
    """The salt with the band of the spoons it is measured by."""
    band = case.band("salt")
    half = (band.high - band.low) / max(band.high + band.low, 1e-9)
    return Interval(middle[0] * (1 - half), middle[1] * (1 + half))
