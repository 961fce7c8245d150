"""Independent routes to the answers, from the numbers a student sees."""

from fractions import Fraction

from tests.lessons.reading_given import bold, table, value


def weight_to_percent(item):
    given = table(item)
    flour = next(mass for name, mass in given.items() if "flour" in name)
    return given[bold(item)[0]] * Fraction(100) / flour


def percent_to_weight(item):
    flour, part = (value(row[1]) for row in item.given)
    return flour * part / 100


def dough_share(item):
    given = table(item)
    asked = bold(item)[1]
    return given[asked] / sum(given.values()) * 100


ROUTES = {
    "weight_to_percent": weight_to_percent,
    "percent_to_weight": percent_to_weight,
    "dough_share": dough_share,
}
