"""The dough beside the usual bands: style, salt, yeast, preferment."""

import re
from collections.abc import Iterator
from functools import lru_cache

from bakelab.checking.allowances import hydration_of_the_flour, is_named_in_title
from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding
from bakelab.checking.printed import Interval
from bakelab.checking.shares import exact_band
from bakelab.ranges import (
    Band,
    bands,
    measures,
    style_key,
    style_name,
    styles,
)
from bakelab.ranges.clues import title_clue

__all__ = ["claimed_style", "find_preferments", "find_usual", "find_yeast"]

_TITLE = "the words say"
_NAMED = 4.0  # the weight of words that belong to one style only
_OPTION = re.compile(r"(?i)\b(option\w*|version|variation|no[- ]knead|or|oder|ou)\b")
_COUNTED = {"hydration": "hydration", "salt": "salt", "sugar": "sugar", "fat": "fat"}
_NAMES = {"hydration": "true hydration", "salt": "salt", "sugar": "sugar", "fat": "fat"}
_BEYOND = {"hydration": 5.0, "salt": 0.3, "sugar": 1.5, "fat": 1.5}  # points; our own
_SALT_MOST = (
    3.2  # % of flour; above it bread tastes of salt; common practice, no source
)
_SALT_LEAST = 0.5
_YEAST_MOST = {"yeast_fresh": 8.0, "yeast_active_dry": 3.2, "yeast_instant": 2.7}
_PACKET_G = (6.5, 7.5)  # 7.2 g with a deviation of 0.17 g: USDA SR26 18375
_CUBE_G = (40.0, 43.0)  # a cube of fresh yeast, 42 g; common practice, no source
_YEAST_NAME = {"yeast_fresh": "fresh yeast", "yeast_active_dry": "active dry yeast",
               "yeast_instant": "instant yeast"}  # fmt: skip
_PRACTICE = "common practice, no source"


def claimed_style(case: Case) -> tuple[str, str] | None:
    """The style asked for or claimed by the title, and how it is known."""
    formula = case.formula
    if formula is None or formula.flour_g <= 0:
        return None
    if case.style:
        return style_key(case.style), "the style that was asked for"
    plain = formula.title and not _OPTION.search(formula.title)
    found = _style_of_title(formula.title) if plain else None
    chemical = bool(formula.role_g("leavening")) and not (
        formula.role_g("yeast") or formula.role_g("starter")
    )
    if found is not None and chemical != (found[0] in _quick_styles()):
        return None  # raised in another way than the style is
    return found


@lru_cache(maxsize=1024)
def _style_of_title(title: str) -> tuple[str, str] | None:
    """The one style that the words of a title name best, whatever the numbers."""
    clues = {s: title_clue(s, title) for s in _style_keys()}
    ranked = sorted(clues, key=lambda s: -clues[s].weight)
    best, second = clues[ranked[0]], clues[ranked[1]]
    if best.weight < _NAMED or best.weight <= second.weight:
        return None
    return ranked[0], best.text.replace(_TITLE, "the title says")


@lru_cache(maxsize=1)
def _style_keys() -> tuple[str, ...]:
    return tuple(styles()["style"])


@lru_cache(maxsize=1)
def _quick_styles() -> frozenset[str]:
    table = styles()
    return frozenset(table["style"][table["family"] == "quick"])


def find_usual(case: Case) -> Iterator[Finding]:
    """Findings `outside-the-style` and `salt-share`.

    A measure counts as outside only where its whole band, from the cups and
    spoons of the recipe, lies outside the widest usual band and some points
    beyond (hydration 5, sugar and fat 1.5, salt 0.3; our own), and neither
    soaked grain, nor water bound in an addition, nor the title explains it.
    """
    formula = case.formula
    if formula is None or formula.flour_g <= 0 or _incomplete(case):
        return
    claim = claimed_style(case)
    if claim is not None:
        yield from _style(case, *claim)
    yield from _salt(case, told="salt" if claim else "")


def _incomplete(case: Case) -> bool:
    heavy = ("flour", "water", "liquid", "dairy", "starter", "egg", "fat")
    return any(e.line.role in heavy and not e.line.optional for e in case.unweighed)


def _style(case: Case, style: str, why: str) -> Iterator[Finding]:
    usual = bands(style)
    said_in_method = any(ln.line_no == 0 for ln in case.recipe.lines)
    for measure, name in _COUNTED.items():
        band = usual.get(measure)
        if band is None or (measure == "hydration" and said_in_method):
            continue
        own = case.band(name)
        beyond = _BEYOND[measure]
        if own.low > band.high + beyond or own.high < band.low - beyond:
            if own.high == 0 or _is_allowed(case, measure, own, band):
                continue
            yield _outside(case, style, why, measure, own, band)


def _is_allowed(case: Case, measure: str, own: Interval, band: Band) -> bool:
    """Whether additions, or a name that says so, explain a measure above its band."""
    if own.low <= band.high:
        return False
    if measure == "hydration":
        flour_alone = hydration_of_the_flour(case.parts)
        return flour_alone.low <= band.high + _BEYOND[measure]
    title = case.formula.title if case.formula is not None else ""
    counted = [e.line for e in case.dough if _belongs(e, measure)]
    return is_named_in_title(title, counted)


def _outside(
    case: Case, style: str, why: str, measure: str, own: Interval, band: Band
) -> Finding:
    side = "above" if own.low > band.high else "below"
    lines = [e.quote for e in case.dough if _belongs(e, measure)]
    middle = (own.low + own.high) / 2
    return Finding(
        "outside-the-style",
        "unlikely",
        f"{_NAMES[measure]} {middle:.1f} % is {side} the usual of {style_name(style)}",
        tuple(lines[:3]),
        (f"from the lines: {own.text('% of flour')}", f"usual: {band.text}", why),
        "Check the lines that count for it, or the name of the bread.",
        "medium" if why.startswith("the style") else "low",
        "; ".join(band.sources),
    )


def _belongs(entry: Entry, measure: str) -> bool:
    roles = {"hydration": ("flour", "water", "liquid", "dairy"), "salt": ("salt",),
             "sugar": ("sweetener",), "fat": ("fat",)}  # fmt: skip
    return entry.line.role in roles[measure] and entry.line.mass_g is not None


def _salt(case: Case, *, told: str) -> Iterator[Finding]:
    own = case.band("salt")
    raised = any(e.line.role in ("yeast", "starter") for e in case.dough)
    lines = tuple(e.quote for e in case.dough if e.line.role == "salt")
    del told
    if not lines or not raised:
        return
    if own.low > _SALT_MOST:
        said = "more salt than bread has"
    elif 0 < own.high < _SALT_LEAST:
        said = "hardly any salt"
    else:
        return
    yield Finding(
        "salt-share",
        "unlikely",
        f"salt is {(own.low + own.high) / 2:.2g} % of the flour: {said}",
        lines,
        (f"from the lines: {own.text('% of flour')}",
         f"bread usually has 1 to 2.2 %, hardly ever more than {_SALT_MOST:g} %"),
        "Check the amount and the unit (teaspoon or tablespoon).",
        "high" if own.low > 4.5 else "medium",
        f"Figoni, How Baking Works, ch. 7: 1.5-2 %; limits here {_PRACTICE}",
    )  # fmt: skip


def find_yeast(case: Case) -> Iterator[Finding]:
    """Findings `yeast-against-amount`: more than any style of that kind of yeast.

    Cooks open whole packets: so many packets stand for anything more than
    one fewer, and 14 g on 333 g of flour is two packets where one is less
    than was wanted.
    """
    formula = case.formula
    if formula is None or formula.flour_g <= 0 or _incomplete(case):
        return
    own = case.band("yeast")
    if any("liquid yeast" in e.line.remark for e in case.dough):
        return
    packets = _whole_packets(case)
    kind = next((n for n in measures(formula) if n in _YEAST_MOST), None)
    if kind is None or own.low <= _YEAST_MOST[kind]:
        return
    if not packets or own.low * (packets - 1) / packets > _YEAST_MOST[kind]:
        yield _much_yeast(case, own, kind)


def _much_yeast(case: Case, own: Interval, kind: str) -> Finding:
    lines = tuple(e.quote for e in case.dough if e.line.role == "yeast")
    as_fresh = own.low <= _YEAST_MOST["yeast_fresh"] and kind != "yeast_fresh"
    hint = "as fresh yeast it would be usual" if as_fresh else "check the unit"
    return Finding(
        "yeast-against-amount",
        "unlikely",
        f"{(own.low + own.high) / 2:.2g} % of {_YEAST_NAME[kind]} is far more than any "
        f"dough takes; {hint}",
        lines,
        (f"from the lines: {own.text('% of flour')}",
         f"highest usual: about {_YEAST_MOST[kind]:g} %"),
        "Name the kind of yeast, or give 1 g of fresh as 0.4 g active dry or 0.33 g "
        "instant.",
        "medium",
        f"{_PRACTICE}; 7.2 g packet for 17 g cake, USDA SR26 18375 and 18374",
    )  # fmt: skip


def _whole_packets(case: Case) -> float:
    """The packets of the one line of yeast; 0 where it is not given in packets."""
    lines = [e for e in case.dough if e.line.role == "yeast"]
    if len(lines) != 1:
        return 0.0
    amount, mass_g = lines[0].phrase.amount, lines[0].line.mass_g or 0.0
    if amount is not None and amount.unit == "packet":
        return float(amount.high)
    fresh = lines[0].line.ingredient == "yeast_fresh"
    low, high = _CUBE_G if fresh else _PACKET_G
    return 1.0 if low <= mass_g <= high else 0.0


def find_preferments(case: Case) -> Iterator[Finding]:
    """Findings `preferment-against-parts`: more is used than its stage makes."""
    formula = case.formula
    if formula is None:
        return
    stages = [s for s in formula.stages if s != "dough"]
    for entry in case.entries:
        line = entry.line
        if not entry.masses or line.role not in ("starter", "other"):
            continue
        for stage in stages:
            if stage == line.stage or stage.casefold() not in line.label.casefold():
                continue
            found = _preferment(case, entry, stage)
            if found is not None:
                yield found


def _preferment(case: Case, entry: Entry, stage: str) -> Finding | None:
    parts = [p for p in case.parts if p.line.stage == stage]
    made, used = exact_band(parts, "dough_g"), entry.masses[0].grams()
    if not parts or used.low <= made.high * 1.005:
        return None
    return Finding(
        "preferment-against-parts",
        "conflict",
        f"{entry.masses[0].printed} of {stage} is used, its own list makes "
        f"{(made.low + made.high) / 2:.4g} g",
        (entry.quote, *(case.quote(p.line.text, p.line.line_no) for p in parts[:4])),
        (f"{' + '.join(f'{p.mid_g:.4g}' for p in parts)} = {made.text('g')}",
         f"used: {used.text('g')}"),
        "Make more of it, or correct the weight in the dough.",
        "high",
        "sum of the stage's lines; tolerance from the digits",
    )  # fmt: skip
