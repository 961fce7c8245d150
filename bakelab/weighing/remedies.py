"""What to do where a scale is too coarse: a finer one, spoons, or a stock."""

from dataclasses import dataclass
from fractions import Fraction

from bakelab.kitchen import grams_per
from bakelab.weighing.scales import Scale

__all__ = [
    "RISK_LIMIT_PCT",
    "Remedy",
    "Spoons",
    "Stock",
    "finer_step",
    "nearest_spoons",
    "remedy_for",
    "stock_for",
]

RISK_LIMIT_PCT = 5.0  # our own limit: half a step is 5 % of the amount
_FINER_STEPS_G = (0.5, 0.1, 0.01, 0.001)
_STRENGTHS_PCT = (10.0, 5.0, 2.0, 1.0)
_SPOONS = (
    ("tbsp", Fraction(3)),
    ("tsp", Fraction(1)),
    ("tsp", Fraction(1, 2)),
    ("tsp", Fraction(1, 4)),
    ("tsp", Fraction(1, 8)),
)
_MOST_TSP = 12
LEVEL_SPREAD = 0.10  # common practice, no source: what levelling a spoon is worth
_SOLUBLE_ROLES = ("yeast", "salt")
_SOLUBLE = frozenset(
    {"ascorbic_acid", "citric_acid", "sugar_white", "sugar_caster", "dextrose"}
)


@dataclass(frozen=True)
class Spoons:
    """Level spoons nearest to an amount, and the grams they hold."""

    text: str
    mass_g: float
    low_g: float
    high_g: float
    source: str


@dataclass(frozen=True)
class Stock:
    """An ingredient stirred into water, so that more of it can be weighed.

    `solute_g` in `solvent_g` of water make the stock; `weigh_g` of it
    carries `gives_g` of the ingredient and `water_g` of water, and
    `water_left_g` is what then remains of the recipe's water.
    """

    solute_g: float
    solvent_g: float
    weigh_g: float
    gives_g: float
    water_g: float
    water_left_g: float
    risk_pct: float


@dataclass(frozen=True)
class Remedy:
    """Ways to weigh one ingredient more surely; None where there is none."""

    label: str
    exact_g: float
    finer_g: float | None
    spoons: Spoons | None
    stock: Stock | None

    @property
    def text(self) -> str:
        """One sentence with the numbers of every way."""
        ways = [_finer_text(self), _spoons_text(self), _stock_text(self)]
        return "; or ".join(way for way in ways if way)


def remedy_for(
    key: str, *, label: str, role: str, exact_g: float, water_g: float, scale: Scale
) -> Remedy:
    """Every remedy for an amount that the scale weighs with too much risk.

    Parameters
    ----------
    key, label, role : str
        The ingredient; only what dissolves or stirs in (yeast, salt, sugar)
        gets a stock.
    exact_g : float
        The amount wanted, g.
    water_g : float
        Plain water in the recipe, of which a stock may take its part, g.
    scale : Scale
    """
    stock = None
    if role in _SOLUBLE_ROLES or key in _SOLUBLE:
        stock = stock_for(exact_g, water_g=water_g, scale=scale)
    spoons = nearest_spoons(key, exact_g)
    if spoons and _worst_pct(spoons, exact_g) > scale.risk_pct(exact_g):
        spoons = None
    return Remedy(label, exact_g, finer_step(exact_g), spoons, stock)


def finer_step(exact_g: float) -> float | None:
    """The coarsest usual step that weighs an amount within the limit, g."""
    for step in _FINER_STEPS_G:
        if 50.0 * step / exact_g <= RISK_LIMIT_PCT:
            return step
    return None


def nearest_spoons(key: str, exact_g: float) -> Spoons | None:
    """Level measuring spoons (1 tbsp to 1/8 tsp) nearest to an amount.

    None where the ingredient has no weight by the spoon, or where the
    amount is under half of 1/8 tsp or over 4 tbsp.
    """
    weight = grams_per(key, "tsp")
    if weight is None or not weight.mid_g > 0:
        return None
    eighths = round(8 * exact_g / weight.mid_g)
    if not 0 < eighths <= 8 * _MOST_TSP:
        return None
    low, high, source = weight.low_g, weight.high_g, weight.source
    if low == high and not weight.own:
        low, high = (weight.mid_g * (1 + s * LEVEL_SPREAD) for s in (-1, 1))
        source = f"{source}; level spoons taken as 10 % either way"
    teaspoons = eighths / 8
    return Spoons(
        _spoon_words(Fraction(eighths, 8)),
        teaspoons * weight.mid_g,
        teaspoons * low,
        teaspoons * high,
        source,
    )


def stock_for(exact_g: float, *, water_g: float, scale: Scale) -> Stock | None:
    """The strongest stock whose two weighings both keep the limit.

    The making of the stock, the weighing from it and what it then gives all
    stay within 5 %.
    None where the recipe has too little plain water for it.
    """
    for strength_pct in _STRENGTHS_PCT:
        stock = _stock(exact_g, water_g, strength_pct / 100, scale)
        if stock is None or scale.risk_pct(stock.weigh_g) > RISK_LIMIT_PCT:
            continue
        if abs(stock.gives_g / exact_g - 1) * 100 <= RISK_LIMIT_PCT:
            return stock
    return None


def _stock(exact_g: float, water_g: float, share: float, scale: Scale) -> Stock | None:
    weigh = scale.nearest_g(exact_g / share)
    water = weigh * (1 - share)
    if not 0 < water <= water_g:
        return None
    solute = _surely_weighed(max(weigh * share, exact_g), scale)
    return Stock(
        solute_g=solute,
        solvent_g=solute / share - solute,
        weigh_g=weigh,
        gives_g=weigh * share,
        water_g=water,
        water_left_g=water_g - water,
        risk_pct=scale.risk_pct(solute) + scale.risk_pct(weigh),
    )


def _surely_weighed(at_least_g: float, scale: Scale) -> float:
    for mass_g in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0):
        if mass_g >= at_least_g and scale.risk_pct(mass_g) <= RISK_LIMIT_PCT:
            return mass_g
    return max(scale.nearest_g(at_least_g), 10 * scale.step_g(at_least_g))


def _worst_pct(spoons: Spoons, exact_g: float) -> float:
    worst = max(abs(spoons.low_g - exact_g), abs(spoons.high_g - exact_g))
    return 100 * worst / exact_g


def _spoon_words(teaspoons: Fraction) -> str:
    words = []
    for measure, size in _SPOONS:
        count, teaspoons = divmod(teaspoons, size)
        if count:
            amount = count if measure == "tbsp" else count * size
            words.append(f"{amount} {measure}")
    return " + ".join(words)


def _finer_text(remedy: Remedy) -> str:
    if remedy.finer_g is None:
        return ""
    risk = 50 * remedy.finer_g / remedy.exact_g
    return f"a scale that shows {remedy.finer_g:g} g (risk {risk:.1f} %)"


def _spoons_text(remedy: Remedy) -> str:
    spoons = remedy.spoons
    if spoons is None:
        return ""
    return (
        f"level spoons: {spoons.text} = {spoons.mass_g:.2f} g "
        f"({spoons.low_g:.2f} to {spoons.high_g:.2f} g)"
    )


def _stock_text(remedy: Remedy) -> str:
    stock = remedy.stock
    if stock is None:
        return ""
    return (
        f"a stock: stir {stock.solute_g:g} g of {remedy.label} into "
        f"{stock.solvent_g:g} g of water, weigh {stock.weigh_g:g} g of it "
        f"({stock.gives_g:.2f} g {remedy.label}, {stock.water_g:.2f} g water) "
        f"and take that water off: {stock.water_left_g + stock.water_g:g} g - "
        f"{stock.water_g:.2f} g = {stock.water_left_g:.2f} g; "
        "the rest of the stock stays out"
    )
