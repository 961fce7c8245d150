"""Numbers as a student sees them, read from an exercise's own texts."""

import re
from fractions import Fraction

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def value(text):
    """The first number of a text, exactly: ``"9.5 g"`` is 19/2."""
    return Fraction(_NUMBER.search(text).group())


def table(item):
    """Rows of what is given, label to amount; equal labels are added up."""
    found = {}
    for row in item.given:
        found[row[0]] = found.get(row[0], Fraction(0)) + value(row[1])
    return found


def bold(item):
    """What is asked for: the words in bold in the question."""
    return re.findall(r"\*\*(.+?)\*\*", item.question)


def numbers(text):
    return [Fraction(n) for n in _NUMBER.findall(text)]
