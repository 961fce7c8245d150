"""Units: inches, ounces, cups, degrees, each way."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from bakelab.ingredients import ingredient
from bakelab.lessons.bread import exact
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.tins import CM_PER_IN, LIDDED, OPEN, Tin, draw_tin
from bakelab.lessons.words import TENTH, amount, decimal, step_text, worked

__all__ = ["units"]

OZ, LB = Fraction("28.35"), Fraction("453.6")
_UCUM = "UCUM essence table: 1 inch is 2.54 cm exactly, 1 ounce 28.3495 g"
_CUP_FOODS = (
    "wheat_bread", "wheat_all_purpose", "wheat_whole", "sugar_white", "milk_whole",
    "honey", "butter_unsalted", "oats_rolled", "rye_whole",
)  # fmt: skip


def units(draw: Draw, level: int) -> Draft:
    """Level 1 one factor, 2 cups and degrees, 3 volumes and pounds with ounces."""
    return draw.pick(_TASKS[level])(draw)


def _inch_to_cm(draw: Draw) -> Draft:
    inches = Fraction(draw.whole(16, 68), 4)
    draft = _factor_task(
        f"A pan is {amount(inches, 'in')} long inside. How many cm is that?",
        inches, "in", CM_PER_IN, "cm", TENTH, "1 in = 2.54 cm",
    )  # fmt: skip
    draft.slip("rough_factor", inches * 3)
    return draft


def _cm_to_inch(draw: Draw) -> Draft:
    length = Fraction(draw.whole(14, 84), 2)
    return _factor_task(
        f"A pan is {amount(length, 'cm')} long inside. How many inches is that?",
        length, "cm", 1 / CM_PER_IN, "in", TENTH, "1 in = 2.54 cm",
    )  # fmt: skip


def _ounce_to_gram(draw: Draw) -> Draft:
    ounces = Fraction(draw.whole(2, 96), 2)
    draft = _factor_task(
        f"A recipe says {amount(ounces, 'oz')} of flour. How many grams is that?",
        ounces, "oz", OZ, "g", Fraction(1), "1 oz = 28.35 g",
    )  # fmt: skip
    draft.slip("rough_factor", ounces * 30)
    draft.slip("ounces_as_tenths", ounces * LB / 10)
    return draft


def _gram_to_ounce(draw: Draw) -> Draft:
    grams = Fraction(draw.whole(40, 1600, 5))
    return _factor_task(
        f"Your scale shows ounces only. You need {amount(grams, 'g')} of flour. How "
        "many ounces is that?",
        grams, "g", 1 / OZ, "oz", TENTH, "1 oz = 28.35 g",
    )  # fmt: skip


def _factor_task(
    question: str,
    size: Fraction,
    unit: str,
    factor: Fraction,
    into: str,
    step: Fraction,
    known: str,
) -> Draft:
    answer = size * factor
    draft = Draft(
        question=f"{question} Take {known}. Round {step_text(step, into)}.",
        given=((_MANY[unit], amount(size, unit)), ("known", known)),
        answer=answer,
        unit=into,
        step=step,
        source=_UCUM,
    )
    _help_with_factor(draft, size, factor, unit, into, known)
    return draft


def _help_with_factor(
    draft: Draft, size: Fraction, factor: Fraction, unit: str, into: str, known: str
) -> None:
    larger, step, answer = factor > 1, draft.step, draft.number
    bigger = "more" if larger else "fewer"
    sign, shown_factor = ("×", factor) if larger else ("÷", 1 / factor)
    draft.hint(f"Which is larger: one {_ONE[unit]} or one {_ONE[into]}?")
    draft.hint(
        f"So there must be {bigger} {_MANY[into]} than {_MANY[unit]}: do you multiply "
        "or divide?"
    )
    draft.hint(f"Start like this: {decimal(size)} {sign} {decimal(shown_factor)}.")
    draft.tell(f"{known}, so there are {bigger} {_MANY[into]} than {_MANY[unit]}.")
    draft.tell(
        f"{decimal(size)} {sign} {decimal(shown_factor)} = "
        f"{worked(answer, into, step)}."
    )
    draft.slip("factor_the_wrong_way", size / factor)
    draft.slip("unit_swapped_only", size)


def _cups(draw: Draw) -> Draft:
    food = ingredient(draw.pick(_CUP_FOODS))
    cup, cups = exact(food.cup_mid_g), Fraction(draw.whole(2, 20), 4)
    name = food.name.split(" (")[0].lower()
    answer = cup * cups
    draft = Draft(
        question=(
            f"A recipe says {_cup_text(cups)} of **{name}**. A US cup of it "
            "weighs "
            f"about {amount(cup, 'g')} (a US cup of water about 237 g). How many grams "
            "is that? Round to a whole number (1 g)."
        ),
        given=(
            (name, _cup_text(cups)),
            (f"one cup of {name}", amount(cup, "g")),
            ("one cup of water", "237 g"),
        ),
        answer=answer,
        unit="g",
        source=food.source,
    )
    _help_with_cups(draft, name, cup, cups)
    return draft


def _cup_text(cups: Fraction) -> str:
    return amount(cups, "cups" if cups > 1 else "cup")


def _help_with_cups(draft: Draft, name: str, cup: Fraction, cups: Fraction) -> None:
    answer = draft.number
    draft.hint("A cup is a volume, not a weight. What does this cup weigh when full?")
    draft.hint(f"One cup of {name} weighs {amount(cup, 'g')}.")
    draft.hint(f"Start like this: {decimal(cups)} × {amount(cup, 'g')}.")
    draft.tell(f"One cup of {name}: {amount(cup, 'g')}.")
    draft.tell(f"{decimal(cups)} × {decimal(cup)} = {worked(answer, 'g', draft.step)}.")
    draft.tell("Cups are filled unevenly, so weigh where you can.")
    draft.slip("cup_of_water", 237 * cups)
    draft.slip("cup_as_250", 250 * cups)
    draft.slip("factor_the_wrong_way", cup / cups)


def _fahrenheit_to_celsius(draw: Draw) -> Draft:
    hot = Fraction(draw.whole(325, 500, 5) if draw.yes() else draw.whole(66, 110))
    answer = (hot - 32) * 5 / 9
    draft = _degrees(hot, "°F", answer, "°C", "°C = (°F − 32) × 5 ÷ 9")
    draft.hint("The two scales start at different places: 0 °C is 32 °F.")
    draft.hint(
        "First take away 32. A degree Celsius is larger, so there are fewer of them."
    )
    draft.hint(f"Start like this: {decimal(hot)} − 32.")
    draft.tell(f"{decimal(hot)} − 32 = {decimal(hot - 32)}.")
    draft.tell(f"{decimal(hot - 32)} × 5 ÷ 9 = {_whole(answer, '°C')}.")
    draft.slip("forgot_32", hot * 5 / 9)
    draft.slip("order_of_32", hot * 5 / 9 - 32)
    draft.slip("factor_the_wrong_way", (hot - 32) * 9 / 5)
    draft.slip("rule_of_thumb", (hot - 32) / 2)
    return draft


def _celsius_to_fahrenheit(draw: Draw) -> Draft:
    hot = Fraction(draw.whole(160, 260, 5) if draw.yes() else draw.whole(18, 43))
    answer = hot * 9 / 5 + 32
    draft = _degrees(hot, "°C", answer, "°F", "°F = °C × 9 ÷ 5 + 32")
    draft.hint("The two scales start at different places: 0 °C is 32 °F.")
    draft.hint(
        "A degree Fahrenheit is smaller, so there are more of them. Then add 32."
    )
    draft.hint(f"Start like this: {decimal(hot)} × 9 ÷ 5.")
    draft.tell(f"{decimal(hot)} × 9 ÷ 5 = {decimal(hot * 9 / 5)}.")
    draft.tell(f"{decimal(hot * 9 / 5)} + 32 = {_whole(answer, '°F')}.")
    draft.slip("forgot_32", hot * 9 / 5)
    draft.slip("order_of_32", (hot + 32) * 9 / 5)
    draft.slip("factor_the_wrong_way", hot * 5 / 9 + 32)
    draft.slip("rule_of_thumb", hot * 2 + 32)
    return draft


def _degrees(hot: Fraction, unit: str, answer: Fraction, into: str, rule: str) -> Draft:
    what = "An oven is set to" if hot > 140 else "The dough is at"
    return Draft(
        question=(
            f"{what} **{amount(hot, unit)}**. How many {into} is that? Use {rule}. "
            f"Round {step_text(Fraction(1), into)}."
        ),
        given=(("temperature", amount(hot, unit)), ("rule", rule)),
        answer=answer,
        unit=into,
    )


def _whole(degrees: Fraction, unit: str) -> str:
    return worked(degrees, unit, Fraction(1))


def _cubic(draw: Draw) -> Draft:
    tin = draw_tin(draw, [k for k in (*OPEN, *LIDDED) if k.startswith(("loaf", "lid"))])
    volume = tin.length * tin.width * tin.depth
    answer = volume * CM_PER_IN**3
    draft = Draft(
        question=(
            f"A loaf pan measures {tin.measures} inside. How many **cm³** does it hold "
            "to the rim? Take 1 in = 2.54 cm and upright walls. Round to the nearest "
            "10 cm³."
        ),
        given=(
            ("length", tin.size(tin.length)),
            ("width", tin.size(tin.width)),
            ("depth", tin.size(tin.depth)),
            ("known", "1 in = 2.54 cm"),
        ),
        answer=answer,
        unit="cm³",
        step=Fraction(10),
        source=_UCUM,
    )
    _help_with_cubic(draft, tin)
    return draft


def _help_with_cubic(draft: Draft, tin: Tin) -> None:
    sizes, answer = (tin.length, tin.width, tin.depth), draft.number
    product = " × ".join(decimal(m) for m in sizes)
    volume = tin.length * tin.width * tin.depth
    draft.hint("How many small cubes of 1 cm fit into a cube of 1 inch?")
    draft.hint("Turn each of the three measures into cm first, then multiply.")
    draft.hint(
        f"The length: {decimal(tin.length)} × 2.54 = "
        f"{decimal(sizes[0] * CM_PER_IN)} cm."
    )
    draft.tell(f"In inches: {product} = {decimal(volume)} in³.")
    draft.tell("One in³ is 2.54 × 2.54 × 2.54 = 16.387064 cm³.")
    draft.tell(f"{decimal(volume)} × 16.387064 = {worked(answer, 'cm³', draft.step)}.")
    draft.slip("length_factor_for_volume", volume * CM_PER_IN)
    draft.slip("square_factor_for_volume", volume * CM_PER_IN**2)
    draft.slip("unit_swapped_only", volume)


def _pounds(draw: Draw) -> Draft:
    pounds, ounces = Fraction(draw.whole(1, 12)), Fraction(draw.whole(1, 31), 2)
    answer = (16 * pounds + ounces) * OZ
    written = f"{decimal(pounds)} lb {amount(ounces, 'oz')}"
    draft = Draft(
        question=(
            f"An old recipe says **{written}** of flour. How many grams is that? A "
            "pound (lb) has 16 ounces (oz); take 1 oz = 28.35 g. Round to a whole "
            "number (1 g)."
        ),
        given=(
            ("pounds", amount(pounds, "lb")),
            ("ounces", amount(ounces, "oz")),
            ("known", "16 oz in 1 lb; 1 oz = 28.35 g"),
        ),
        answer=answer,
        unit="g",
        source=_UCUM,
    )
    _help_with_pounds(draft, pounds, ounces)
    return draft


def _help_with_pounds(draft: Draft, pounds: Fraction, ounces: Fraction) -> None:
    total, answer = 16 * pounds + ounces, draft.number
    written = f"{decimal(pounds)} lb {amount(ounces, 'oz')}"
    draft.hint("Turn both parts into one unit first.")
    draft.hint("A pound is 16 ounces. How many ounces are there in all?")
    draft.hint(
        f"Start like this, in ounces: 16 × {decimal(pounds)} + {decimal(ounces)}."
    )
    draft.tell(
        f"In ounces: 16 × {decimal(pounds)} + {decimal(ounces)} = {decimal(total)}."
    )
    draft.tell(f"{decimal(total)} × 28.35 = {worked(answer, 'g', draft.step)}.")
    draft.slip("ounces_as_tenths", (10 * pounds + ounces) * OZ)
    draft.slip(
        "ounces_as_tenths",
        (pounds + ounces / 10) * 16 * OZ,
        f"{written} is not {decimal(pounds + ounces / 10)} lb: a pound has 16 ounces, "
        "not 10.",
    )
    draft.slip("mixed_units", (pounds + ounces) * OZ)
    draft.slip("metric_pound", pounds * 500 + ounces * OZ)


_ONE = {"in": "inch", "cm": "centimetre", "oz": "ounce", "g": "gram"}
_MANY = {"in": "inches", "cm": "centimetres", "oz": "ounces", "g": "grams"}
_TASKS: dict[int, tuple[Callable[[Draw], Draft], ...]] = {
    1: (_inch_to_cm, _cm_to_inch, _ounce_to_gram, _gram_to_ounce),
    2: (_cups, _fahrenheit_to_celsius, _celsius_to_fahrenheit),
    3: (_cubic, _pounds),
}
