"""How a panel looks: the lab's theme and `panel.css`, as one style element."""

from functools import cache
from pathlib import Path

from bakelab.theme import panel_css

__all__ = ["SCOPE", "panel_style"]

SCOPE = "bakelab-panel"


@cache
def panel_style() -> str:
    """A `<style>` element for everything inside the class `SCOPE`."""
    own = Path(__file__).with_name("panel.css").read_text(encoding="utf-8")
    return f"<style>{panel_css(f'.{SCOPE}')}{own}</style>"
