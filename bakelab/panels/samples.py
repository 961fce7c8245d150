"""The recipes that come with the lab, for trying things out."""

from collections.abc import Mapping
from pathlib import Path

from bakelab.tables import data_path

__all__ = ["recipes_folder", "sample_recipes"]


def recipes_folder() -> Path | None:
    """The folder of sample recipes, in a checkout or an installed lab."""
    data = data_path()
    places = (data.parent / "notebooks" / "recipes", Path("recipes"))
    return next((place for place in places if place.is_dir()), None)


def sample_recipes() -> Mapping[str, str]:
    """Title to text of every sample recipe, in the order of the file names."""
    folder = recipes_folder()
    found = sorted(folder.glob("*.md")) if folder else []
    texts = [path.read_text(encoding="utf-8") for path in found]
    return {_title(text): text for text in texts}


def _title(text: str) -> str:
    first = next(line for line in text.splitlines() if line.strip())
    return first.lstrip("# ").strip()
