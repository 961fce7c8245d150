"""Pan phrases in running prose."""

from __future__ import annotations

from dataclasses import dataclass

from bakelab.pans.pan import Pan

__all__ = ["PanMention", "pan_in_text"]


@dataclass(frozen=True)
class PanMention:
    """A pan found in a text, and where."""

    pan: Pan
    start: int
    end: int
    text: str
    certain: bool
    note: str = ""


def pan_in_text(text: str, *, language: str = "") -> tuple[PanMention, ...]:
    return ()
