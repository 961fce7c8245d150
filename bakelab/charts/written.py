"""Measures as they are written on drawings and sheets: metric, then inch."""

import math
import re
from html import escape

__all__ = [
    "cm_and_in",
    "cm_text",
    "in_text",
    "plain_number",
    "volume_text",
    "xml_clean",
    "xml_text",
]

CM_PER_INCH = 2.54  # exact; UCUM essence table
CM3_PER_CUBIC_INCH = CM_PER_INCH**3
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_NEAR_EIGHTH_IN = 0.02
_THIN_SPACE = "\u202f"
_LONG = 10_000  # shorter numbers are read at a glance; NIST SP 811, 10.5.3
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def cm_text(length_cm: float) -> str:
    """A length to the millimetre: `23 cm`, `12.7 cm`."""
    return f"{plain_number(length_cm, 1)} cm"


def in_text(length_cm: float) -> str:
    """A length in inches: a fraction where it is one, else one decimal.

    Examples
    --------
    >>> in_text(6.985), in_text(23.0)
    ('2¾ in', '9.1 in')
    """
    inches = length_cm / CM_PER_INCH
    eighths = round(inches * 8)
    if abs(inches - eighths / 8) > _NEAR_EIGHTH_IN or eighths == 0:
        return f"{plain_number(inches, 1)} in"
    whole, part = divmod(eighths, 8)
    return f"{whole or ''}{_EIGHTHS[part]} in"


def cm_and_in(length_cm: float) -> str:
    """A length both ways: `22.9 cm (9 in)`."""
    return f"{cm_text(length_cm)} ({in_text(length_cm)})"


def volume_text(volume_cm3: float) -> str:
    """A volume both ways, whole numbers: `2034 cm³ (124 in³)`."""
    cubic_inches = volume_cm3 / CM3_PER_CUBIC_INCH
    return f"{plain_number(volume_cm3, 0)} cm³ ({plain_number(cubic_inches, 0)} in³)"


def plain_number(value: float, decimals: int) -> str:
    """A number with at most `decimals` places; a space parts more than four digits.

    Examples
    --------
    >>> plain_number(3409.0, 0), plain_number(12345.6, 1).replace(_THIN_SPACE, "_")
    ('3409', '12_345.6')
    >>> plain_number(9999.6, 0).replace(_THIN_SPACE, "_")
    '10_000'
    """
    if not math.isfinite(value):
        return "–"
    long = abs(round(value, decimals)) >= _LONG
    text = f"{value:,.{decimals}f}".replace(",", _THIN_SPACE if long else "")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def xml_clean(text: str) -> str:
    """Text without the characters that XML 1.0 forbids; U+FFFD in their place.

    References
    ----------
    W3C, Extensible Markup Language (XML) 1.0, fifth edition, production 2.
    """
    return _NOT_IN_XML.sub("\ufffd", text)


def xml_text(text: str) -> str:
    """Text that can stand in XML or HTML: cleaned and escaped."""
    return escape(xml_clean(text))
