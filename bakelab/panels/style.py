"""How a panel looks: the lab's theme and our style sheets, as one style element."""

from functools import cache
from pathlib import Path

from bakelab.theme import panel_css

__all__ = ["SCOPE", "panel_style"]

SCOPE = "bakelab-panel"


@cache
def panel_style() -> str:
    """A `<style>` element for everything inside the class `SCOPE`."""
    here = Path(__file__).parent
    files = (here / "panel.css", here / "bench" / "bench.css")
    own = "".join(path.read_text(encoding="utf-8") for path in files)
    return f"<style>{panel_css(f'.{SCOPE}')}{own}</style>"
