"""Scripts of widgets: a widget's script cannot import, so shared functions lead it."""

from functools import cache
from pathlib import Path

__all__ = ["script"]

_HERE = Path(__file__).parent


@cache
def script(own: Path, *shared: str) -> str:
    """A widget's script with shared ones of this folder in front, as one module."""
    files = (*(_HERE / name for name in shared), own)
    return "\n".join(path.read_text(encoding="utf-8") for path in files)
