"""A token of a line, and the number that figures on it stand for."""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

__all__ = ["Token", "number_token"]


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the line: its type in the grammar, value, and place."""

    type: str
    value: Any
    start: int
    end: int
    doubt: str = ""


def number_token(kind: str, text: str, start: int, language: str) -> Token:
    end = start + len(text)
    doubt = ""
    if kind == "mixed":
        whole, top, bottom = re.findall(r"\d+", text)
        value = _ratio(top, bottom)
        value = None if value is None else int(whole) + value
    elif kind == "mixedv":
        whole = re.match(r"\d+", text)
        assert whole is not None
        value = int(whole.group()) + _vulgar(text[-1])
    elif kind == "vulgar":
        value = _vulgar(text)
    elif kind == "fraction":
        value, doubt = _fraction(text)
    else:
        value = _decimal(text, language)
    if value is None or len(text) > 24:
        return Token("MARK", text, start, end)
    return Token("NUMBER", value, start, end, doubt)


def _fraction(text: str) -> tuple[Fraction | None, str]:
    top, bottom = re.split(r"\s*[/⁄∕]\s*", text.replace(",", "."))
    value = _ratio(top, bottom)
    squeezed = re.fullmatch(r"([1-9])([1-9])", top)
    if squeezed and bottom in ("2", "3", "4", "8") and int(squeezed[2]) < int(bottom):
        mixed = int(squeezed[1]) + Fraction(int(squeezed[2]), int(bottom))
        return mixed, f"{text} was read as {squeezed[1]} {squeezed[2]}/{bottom}"
    return value, ""


def _ratio(top: str, bottom: str) -> Fraction | None:
    return Fraction(top) / int(bottom) if int(bottom) else None


def _vulgar(sign: str) -> Fraction:
    return Fraction(unicodedata.numeric(sign)).limit_denominator(16)


def _decimal(text: str, language: str) -> Fraction | None:
    text = re.sub(r"[ \u00a0\u202f\u2009'’]", "", text)
    thousands = "," if language == "en" else "."
    pattern = rf"[1-9]\d{{0,2}}(?:{re.escape(thousands)}\d{{3}})+"
    if re.fullmatch(pattern, text):
        text = text.replace(thousands, "")
    text = text.replace(",", ".")
    if text.count(".") > 1 or text in ("00", "000"):
        return None
    return Fraction(f"0{text}" if text.startswith(".") else text)
