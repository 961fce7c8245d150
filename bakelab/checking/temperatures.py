"""Celsius, Fahrenheit and gas marks that stand beside each other."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval, temperature_step

__all__ = ["find_temperatures"]

_OVEN_FROM_C = 120.0
_OVEN_SLACK_C = 8.0  # 325 F is printed as 160 and as 170 C; common practice, no source
_GAS_SLACK_C = 16.0  # a mark spans 10 to 15 C; common practice, no source
_DEGREE = r"(?:°|º|˚|degrees?|deg\.?)"
_PAIR = re.compile(
    rf"(?P<a>\d{{2,3}})(?:\s*(?:-|–|—|to)\s*(?P<a2>\d{{2,3}}))?\s*{_DEGREE}?\s*"
    rf"(?P<au>Celsius|Fahrenheit|C|F|℃|℉)(?![a-z])[.,]?\s*(?P<aw>fan|conventional)?\s*"
    rf"(?:\(|/|,|or|=|\||;|\s|\[)*\s*"
    rf"(?P<b>\d{{2,3}})(?:\s*(?:-|–|—|to)\s*(?P<b2>\d{{2,3}}))?\s*{_DEGREE}?\s*"
    rf"(?P<bu>Celsius|Fahrenheit|C|F|℃|℉)(?![a-z])(?P<bw>\s*fan)?",
    re.IGNORECASE,
)
_GAS = re.compile(
    r"(?i)(?P<a>\d{2,3})\s*(?:°|º|degrees?)?\s*(?P<au>C|F)\b[^.;\n]{0,24}?\bgas\s*"
    r"(?:mark)?\s*(?P<g>\d{1,2}|½|¼|1/2|1/4)(?![\d/])"
)
# Middle of each mark, C; common practice, no source.
_MARK_C = {
    "¼": 110,
    "1/4": 110,
    "½": 125,
    "1/2": 125,
    "1": 140,
    "2": 150,
    "3": 165,
    "4": 180,
    "5": 190,
    "6": 200,
    "7": 217,
    "8": 230,
    "9": 243,
    "10": 260,
}
_FAN = re.compile(r"(?i)\bfan\b|umluft|heißluft|convection|chaleur tournante")


@dataclass(frozen=True)
class _Reading:
    low: float
    high: float
    unit: str

    def celsius(self, value: float) -> float:
        return (value - 32) / 1.8 if self.unit == "F" else value

    def other(self, value: float) -> float:
        """A value of the other scale on this one."""
        return value * 1.8 + 32 if self.unit == "F" else (value - 32) / 1.8

    def around(self, value: float) -> Interval:
        half = temperature_step(value, self.unit) / 2
        return Interval(value - half, value + half)

    def text(self) -> str:
        ends = f"{self.low:g}" if self.low == self.high else (
            f"{self.low:g} to {self.high:g}"
        )  # fmt: skip
        return f"{ends} °{self.unit}"


def find_temperatures(case: Case) -> Iterator[Finding]:
    """Findings `temperature-units`.

    One of two scales is the original and the other its rounding, on an oven
    to 25 °F or 10 °C. It is a conflict where neither, converted exactly,
    falls into what the other stands for, and in the heat of an oven differs
    by more than 8 °C besides, as dials and published tables do. A gas mark
    may be 16 °C off the middle of its mark. Fan settings are not compared.
    """
    for quote in case.prose:
        text = quote.text[:2000]
        for match in _PAIR.finditer(text):
            found = _pair(quote, match, text)
            if found is not None:
                yield found
        for match in _GAS.finditer(text):
            found = _mark(quote, match)
            if found is not None:
                yield found


def _pair(quote: Quote, match: re.Match[str], text: str) -> Finding | None:
    first, second = _reading(match, "a"), _reading(match, "b")
    if first.unit == second.unit:
        return None
    around = text[max(0, match.start() - 12) : match.end() + 14]
    if _FAN.search(around):
        return None
    ends = [(first.low, second.low), (first.high, second.high)]
    if all(_agree(first, a, second, b) for a, b in ends):
        return None
    return Finding(
        "temperature-units",
        "conflict",
        f"{first.text()} and {second.text()} are not the same heat",
        (quote,),
        tuple(
            f"{a:g} °{first.unit} = {second.other(a):.0f} °{second.unit}, "
            f"printed {b:g} °{second.unit}"
            for a, b in dict.fromkeys(ends)
        ),
        f"Write {_rounded(second.other(first.low), second.unit)} °{second.unit}, or "
        f"{_rounded(first.other(second.low), first.unit)} °{first.unit}.",
        "high",
        "°F = 1.8 °C + 32",
    )


def _reading(match: re.Match[str], side: str) -> _Reading:
    low = float(match[side])
    high = float(match[f"{side}2"] or low)
    unit = match[f"{side}u"][0].upper().replace("℃", "C").replace("℉", "F")
    return _Reading(low, high, unit)


def _agree(first: _Reading, a: float, second: _Reading, b: float) -> bool:
    if second.around(b).holds(second.other(a)) or first.around(a).holds(first.other(b)):
        return True
    celsius = first.celsius(a), second.celsius(b)
    hot = min(celsius) >= _OVEN_FROM_C
    return hot and abs(celsius[0] - celsius[1]) <= _OVEN_SLACK_C


def _rounded(value: float, unit: str) -> str:
    step = 5 if unit == "F" or value < 100 else 10
    return f"{step * round(value / step):g}"


def _mark(quote: Quote, match: re.Match[str]) -> Finding | None:
    usual = _MARK_C.get(match["g"])
    if usual is None or _FAN.search(match[0]):
        return None
    printed = _Reading(float(match["a"]), float(match["a"]), match["au"].upper())
    celsius = printed.celsius(printed.low)
    if abs(celsius - usual) <= _GAS_SLACK_C:
        return None
    return Finding(
        "temperature-units",
        "conflict",
        f"{printed.text()} is not gas mark {match['g']}",
        (quote,),
        ((f"gas mark {match['g']} is about {usual} °C ({usual * 1.8 + 32:.0f} °F), "
         f"printed is {celsius:.0f} °C"),),
        f"The mark nearest {celsius:.0f} °C is {_nearest(celsius)}.",
        "high" if abs(celsius - usual) > 25 else "medium",
        "usual table of gas marks; common practice, no source",
    )  # fmt: skip


def _nearest(celsius: float) -> str:
    return min(_MARK_C, key=lambda mark: abs(_MARK_C[mark] - celsius))
