"""Styles and scripts of exercises and playgrounds, out of the files beside this."""

from functools import cache
from pathlib import Path

from bakelab.theme import panel_css

__all__ = ["lesson_css", "script"]

_SCOPE = ".bakelab-item"
_EDGE = (
    f"{_SCOPE}{{--bakelab-edge:color-mix(in srgb,var(--bakelab-ink) 50%,"
    "var(--bakelab-paper))}"
)


@cache
def lesson_css() -> str:
    """The style of exercises, in the lab's colours, light and dark."""
    own = Path(__file__).with_name("lesson.css").read_text(encoding="utf-8")
    return f"{panel_css(_SCOPE)}{_EDGE}\n{own}"


@cache
def script(name: str) -> str:
    """One of our scripts, with the keyboard rules of `keys.js` in front."""
    here = Path(__file__)
    both = (here.with_name(n).read_text(encoding="utf-8") for n in ("keys.js", name))
    return "\n".join(both)
