"""Independent routes to the answers, from the numbers a student sees.

Each is written apart from the families: direct fractions, equations that sympy
solves, pint for units, and the rows of the tables in `data/` for usual bands.
"""

import csv
from fractions import Fraction
from functools import cache

import pint
import sympy

from bakelab.tables import data_path
from tests.lessons.reading_given import bold, numbers, table, value

UREG = pint.UnitRegistry(non_int_type=Fraction)
DEGREES = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def exact(number):
    """A sympy number as a fraction."""
    return Fraction(int(number.p), int(number.q))


def rational(fraction):
    return sympy.Rational(fraction.numerator, fraction.denominator)


@cache
def _solver(text, unknown):
    """The solution as a numerator and a denominator with whole coefficients."""
    solution = sympy.solve(sympy.sympify(text), sympy.Symbol(unknown))[0]
    names = sorted(str(symbol) for symbol in solution.free_symbols)
    halves = sympy.fraction(sympy.together(solution))
    return names, [sympy.lambdify(names, half, modules=[{}, "math"]) for half in halves]


def solve(equation, unknown, **known):
    """`unknown` from an equation of sympy such as ``"dough*left/100 - loaf"``."""
    names, (above, below) = _solver(equation, unknown)
    values = [known[name] for name in names]
    return Fraction(above(*values)) / Fraction(below(*values))


def parts(item):
    given = table(item)
    counts = {k.removeprefix("parts of "): n for k, n in given.items() if "parts" in k}
    if "all together" in given:
        asked = bold(item)[1]
        each = solve("each*total - whole", "each", total=sum(counts.values()),
                     whole=given["all together"])  # fmt: skip
        return each * counts[asked]
    return solve(
        "water/flour - b/a", "water",
        flour=given["flour"], a=counts["flour"], b=counts["water"],
    )  # fmt: skip


def compare_ratios(item):
    if item.level == 1:
        flours, waters = ([value(cell) for cell in row[1:]] for row in item.given)
        cross = waters[0] * flours[1] - waters[1] * flours[0]
        if not cross:
            return "both are equally soft"
        return "dough A" if cross > 0 else "dough B"
    flour, water, third = (value(row[1]) for row in item.given)
    if item.level == 2:
        return solve("x/new - water/flour", "x", new=third, water=water, flour=flour)
    return solve(
        "(water + spilt)/(flour + x) - water/flour", "x",
        spilt=third, water=water, flour=flour,
    )  # fmt: skip


def estimate(item):
    return ROUTES[item.then](item)


def weight_to_percent(item):
    given = table(item)
    flour = next(mass for name, mass in given.items() if "flour" in name)
    return given[_asked(item)] * Fraction(100) / flour


def percent_to_weight(item):
    flour, part = (value(row[1]) for row in item.given)
    return flour * part / 100


def several_flours(item):
    given = table(item)
    if item.unit == "g":
        known, asked = bold(item)
        return solve(
            "mass/share - x/percent", "x",
            mass=given[known], share=given[f"{known}, of all flour"],
            percent=given[asked],
        )  # fmt: skip
    flours = [m for n, m in given.items() if "flour" in n or "starch" in n]
    return 100 * given[_asked(item)] / sum(flours)


def dough_share(item):
    given = {k: v for k, v in table(item).items() if not k.startswith("or, instead")}
    return given[_asked(item)] / sum(given.values()) * 100


def true_hydration(item):
    flour = value(item.given[0][1])
    water = sum(value(mass) * value(share) for _, mass, share in item.given[1:])
    return water / flour


def preferment(item):
    first, second = (value(row[1]) for row in item.given[:2])
    if item.level == 1:
        return first - first * second / 100
    if item.level == 2:
        share, own = (value(row[1]) for row in item.given[2:])
        return first * second / 100 - first * share / 100 * own / 100
    starter, own = (value(row[1]) for row in item.given[2:])
    inside = solve("f + f*own/100 - starter", "f", own=own, starter=starter)
    return 100 * (second + starter - inside) / (first + inside)


def water_temperature(item):
    given = table(item)
    dough = given.pop("wanted for the dough")
    rise = sum(t for name, t in given.items() if name.startswith("rise"))
    known = [t for name, t in given.items() if not name.startswith("rise")]
    return solve(
        "(known + water + rise)/n - dough", "water",
        known=sum(known), rise=rise, n=len(known) + 1, dough=dough,
    )  # fmt: skip


def pan_volume(item):
    given = table(item)
    height = given["depth"] + given.get("added for the dome", 0)
    if "diameter" in given:
        return Fraction("3.14") * given["diameter"] ** 2 / 4 * height
    length, width = given["length at the rim"], given["width at the rim"]
    if "length at the base" not in given:
        return length * width * height
    return _frustum(
        length, width, given["length at the base"], given["width at the base"], height
    )


def _frustum(length, width, base_length, base_width, depth):
    """Integral of the area over the height, by sympy."""
    names, formula = _integral()
    known = {"l": length, "w": width, "m": base_length, "v": base_width, "d": depth}
    return Fraction(formula(*(known[n] for n in names))) / 6


@cache
def _integral():
    l, w, m, v, d, z = sympy.symbols("l w m v d z")  # noqa: E741
    area = (m + (l - m) * z / d) * (v + (w - v) * z / d)
    volume = sympy.expand(sympy.integrate(sympy.expand(area), (z, 0, d)))
    symbols = (l, w, m, v, d)
    return [str(s) for s in symbols], sympy.lambdify(
        symbols, 6 * volume, modules=[{}, "math"]
    )


def volume_ratio(item):
    flour = value(item.given[0][1])
    old, new = (_room([row[place] for row in item.given[1:]]) for place in (1, 2))
    return flour * new / old


def _room(cells):
    length, width, depth, dome = cells
    height = value(depth) + value(dome)
    if width == "round":
        return Fraction("3.14") * (value(length) / 2) ** 2 * height
    return value(length) * value(width) * height


def units(item):
    given = table(item)
    if "temperature" in given:
        kind = {"°C": "degC", "°F": "degF"}
        typed = item.given[0][1].split()
        hot = DEGREES.Quantity(float(typed[0]), kind[typed[1]])
        return Fraction(hot.to(kind[item.unit]).magnitude).limit_denominator(1000)
    if "pounds" in given:
        return (given["pounds"] * 16 + given["ounces"]) * Fraction("28.35")
    if "one cup of water" in given:
        amounts = [value(row[1]) for row in item.given[:2]]
        return amounts[0] * amounts[1]
    if item.unit == "cm³":
        return _as_cm(given["length"]) * _as_cm(given["width"]) * _as_cm(given["depth"])
    size, unit = item.given[0][1].split()
    factors = {"in": Fraction("2.54"), "oz": Fraction("28.35")}
    larger = factors.get(unit)
    return Fraction(size) * larger if larger else Fraction(size) / factors[item.unit]


def _as_cm(inches):
    return UREG.Quantity(inches, "inch").to("cm").magnitude


def pieces(item):
    given = table(item)
    total = given.get("everything together")
    count = next(v for k, v in given.items() if k.startswith("number of"))
    loss = given.get("lost in the oven, of the dough", Fraction(0))
    if total is None:
        skip = ("number of", "each", "lost in")
        total = sum(v for k, v in given.items() if not k.startswith(skip))
    return solve(
        "flour*total/100*(1 - loss/100) - count*each", "flour",
        total=total, loss=loss, count=count, each=given["each"],
    )  # fmt: skip


def baked_mass(item):
    given = table(item)
    equation = "dough*(1 - loss/100) - loaf"
    unknown = {"%": "loss"}.get(item.unit, "loaf" if "dough" in given else "dough")
    names = {"dough": "dough", "cooled bread": "loaf", "bake loss": "loss"}
    return solve(equation, unknown, **{names[k]: v for k, v in given.items()})


def rounding_cost(item):
    given = table(item)
    if "wanted" in given:
        return abs(given["weighed"] / given["wanted"] - 1) * 100
    if "old pan" in given:
        ratio = given["new pan"] / given["old pan"]
        tenths = sympy.floor(rational(ratio) * 10 + sympy.Rational(1, 2))
        return abs(exact(tenths) / 10 - ratio) * given["flour"]
    step = given["step of the scale"]
    mass = given["flour"] * given["salt"] / 100
    steps = exact(sympy.floor(rational(mass / step) + sympy.Rational(1, 2)))
    return steps * step / given["flour"] * 100


def weighing_risk(item):
    given = table(item)
    if "at most" in given:
        return solve("100*(s/2)/m - p", "m", s=given["step of the scale"],
                     p=given["at most"])  # fmt: skip
    if "yeast wanted" in given:
        share = given["yeast in the stock"] / (
            given["yeast in the stock"] + given["water in the stock"]
        )
        return given["yeast wanted"] / share
    mass = given[_asked(item)]
    return given["step of the scale"] / 2 / mass * 100


def published(item):
    """The arithmetic of TM 10-412 (2003), cards A-1(2), A-1(3), D 009, D 055."""
    given = table(item)
    if "portions needed" in given:
        return given["flour on the card"] * given["portions needed"] / 100
    if "in store" in given:
        return given["in store"] / given["for 100 portions"]
    if "your portion" in given:
        size = given["your portion"] / given["portion on the card"]
        served = given["number of your portions"] * size
        return given["flour on the card"] * served / 100
    if "quarts in a gallon" in given:
        return 4 * given["water on the card"] * given["working factor"]
    if "yeast" in given:
        quarters = sympy.floor(rational(given["yeast"]) * 64 + sympy.Rational(1, 2))
        return exact(quarters) / 4
    if "loaves" in given:
        left = given["all ingredients"] - given["loaves"] * given["dough for one loaf"]
        return 100 * left / given["all ingredients"]
    if "tablespoons wanted" in given:
        return Fraction(7, 2) / 8 * given["tablespoons wanted"]
    ounces = {name: _mixed(text) for name, text in item.given}
    flour = sum(m for name, m in ounces.items() if "flour" in name)
    return 100 * ounces[_asked(item)] / flour


def _mixed(text):
    """``"1 2/3 oz"`` as printed."""
    return sum(Fraction(part) for part in text.removesuffix(" oz").split())


def wrong_ingredient(item):
    """The one line whose printed percentage is not weight over flour."""
    flour = value(item.given[0][1])
    odd = [
        name
        for name, mass, percent in item.given[1:]
        if abs(value(mass) / flour * 100 - value(percent)) > Fraction(1, 20)
    ]
    assert len(odd) == 1, odd
    return odd[0]


def judge_formula(item):
    """The one line out of the band that stands beside it."""
    flour = value(item.given[0][1])
    odd = []
    for name, now, usual in item.given[1:]:
        low, high = numbers(usual)
        percent = value(now) if now.endswith("%") else value(now) / flour * 100
        if not low <= percent <= high:
            odd.append(name)
    assert len(odd) <= 1, odd
    return odd[0] if odd else "none of them, all is usual"


KEYS = {
    "water in all": "hydration",
    "fat": "fat",
    "sugar": "sugar",
    "egg": "egg",
    "salt": "salt",
}


@cache
def bands():
    """Lowest and highest of each style and measure, straight from the CSV."""
    found, names = {}, {}
    text = (data_path() / "trade_ranges.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(t for t in text.splitlines() if not t.startswith("#"))
    for row in rows:
        names[row["style"]] = row["name"]
        low, high = Fraction(row["low"]), Fraction(row["high"])
        old = found.get((row["name"], row["measure"]), (low, high))
        found[row["name"], row["measure"]] = min(old[0], low), max(old[1], high)
    return found


def reading_formula(item):
    given = table(item)
    if item.level == 1:
        return _crumb(given)
    if item.level == 2:
        return _compared(item)
    fitting = [
        name
        for name in item.choices
        if all(_within(name, KEYS[what], size) for what, size in given.items())
    ]
    assert len(fitting) == 1, fitting
    return fitting[0]


def _within(name, measure, size):
    low, high = bands().get((name, measure), (0, 0))
    return low <= size <= high


def _crumb(given):
    """Rules of thumb of the trade (common practice, no source), in this order."""
    water, fat, sugar = given["water in all"], given["fat"], given["sugar"]
    if given["rye flour, of all flour"] >= 45:
        return "dense, moist and close, with a sour or malty taste"
    if given["whole-grain flour, of all flour"] >= 50:
        return "closer and heavier than white bread, with a nutty taste"
    if fat >= 12:
        return "very tender, almost like cake"
    if water <= 58:
        return "tight and chewy, hardly any holes"
    if fat >= 2 and sugar >= 2:
        return "small, even pores; soft and springy"
    assert water >= 70
    return "large, uneven holes; moist and chewy"


def _compared(item):
    words = {"browns sooner": "sugar", "more tender, richer": "fat",
             "slacker and stickier": "water in all"}  # fmt: skip
    row = {name: cells for name, *cells in item.given}[words[bold(item)[0]]]
    first, second = (value(cell) for cell in row)
    assert abs(first - second) >= 5
    return item.heading[1] if first > second else item.heading[2]


def _asked(item):
    names = {row[0] for row in item.given}
    return next(words for words in reversed(bold(item)) if words in names)


ROUTES = {
    "parts": parts,
    "compare_ratios": compare_ratios,
    "estimate": estimate,
    "weight_to_percent": weight_to_percent,
    "percent_to_weight": percent_to_weight,
    "several_flours": several_flours,
    "dough_share": dough_share,
    "true_hydration": true_hydration,
    "preferment": preferment,
    "water_temperature": water_temperature,
    "pan_volume": pan_volume,
    "volume_ratio": volume_ratio,
    "units": units,
    "pieces": pieces,
    "baked_mass": baked_mass,
    "rounding_cost": rounding_cost,
    "weighing_risk": weighing_risk,
    "published": published,
    "wrong_ingredient": wrong_ingredient,
    "reading_formula": reading_formula,
    "judge_formula": judge_formula,
}
