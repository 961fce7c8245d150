"""Pictures of exercises for paper and for notebooks: black ink, fixed colours."""

import re
from html import unescape

__all__ = ["paper_svg", "picture_png", "picture_words"]

_VARIABLE = re.compile(r"var\(--[\w-]+,\s*(#[0-9a-fA-F]{3,8})\)")
_WORDS = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_FONT = re.compile(r'font-family="[^"]*"')
_PPI = 130.0
_PAGE = b"""#set page(width: auto, height: auto, margin: 6pt, fill: white)
#image(bytes(sys.inputs.picture), format: "svg")
"""


def paper_svg(svg: str) -> str:
    """An SVG whose colours do not follow a page around it."""
    fixed = _VARIABLE.sub(r"\1", svg).replace("currentColor", "#000000")
    return _FONT.sub('font-family="Libertinus Serif"', fixed)


def picture_png(svg: str) -> bytes:
    """An SVG as a PNG on white, set with typst's own fonts."""
    import typst

    inputs = {"picture": paper_svg(svg)}
    return bytes(typst.compile(_PAGE, sys_inputs=inputs, format="png", ppi=_PPI))


def picture_words(svg: str) -> str:
    """What a picture shows, for those who cannot see it: its own description."""
    found = _WORDS.search(svg)
    return " ".join(unescape(found.group(1)).split()) if found else "picture"
