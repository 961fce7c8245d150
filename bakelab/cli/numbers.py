"""Numbers on the command line, refused in plain words."""

import argparse
import math

__all__ = ["a_number", "a_port", "a_whole_number"]

_PORTS = 65535


def a_number(text: str) -> float:
    """A number such as ``5`` or ``2.5``.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is none, in words that argparse prints.

    Examples
    --------
    >>> a_number("2,5")
    2.5
    """
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise argparse.ArgumentTypeError(f"{text!r} is no number; give one such as 5")
    return number


def a_whole_number(text: str) -> int:
    """A whole number such as ``7``; refuses as `a_number` does."""
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no whole number; give one such as 7"
        ) from None


def a_port(text: str) -> int:
    """A port of this machine; refuses as `a_number` does."""
    port = a_whole_number(text)
    if not 1 <= port <= _PORTS:
        raise argparse.ArgumentTypeError(
            f"{port} is no port; give one from 1 to {_PORTS}, such as 8888"
        )
    return port
