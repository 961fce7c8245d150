"""Styles and scripts of exercises and playgrounds, out of the files beside this."""

from functools import cache
from pathlib import Path

from bakelab.panels import scripts
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
    """One of our scripts, with `element` and the rules of `keys.js` in front."""
    here = Path(__file__)
    own = scripts.script(here.with_name(name), "element.js")
    return f"{here.with_name('keys.js').read_text(encoding='utf-8')}\n{own}"
