"""The law of the reader: in any layout, every ingredient line comes back."""

import csv
import random
from pathlib import Path

import pytest

from bakelab.reading import read_line, read_recipe

CORPUS = Path(__file__).parent / "corpus" / "lines.csv"
GROUP = 7  # lines of one made-up recipe
WORDS = {
    "en": ("Ingredients", "Method", "Mix it all and bake at 200 C for 30 minutes."),
    "de": ("Zutaten", "Zubereitung", "Alles mischen, bei 200 Grad 30 Minuten backen."),
    "fr": ("Ingrédients", "Préparation", "Mélanger et cuire 30 minutes à 200 °C."),
}
LAYOUTS = {
    "headings": "# Loaf\n\n## {list}\n{bulleted}\n\n## {method}\n1. {step}\n",
    "bare lines": "Loaf\n\n{bare}\n\n{step}\n",
    "bullets alone": "Loaf\n\n{bulleted}\n\n{step}\n",
    "headings with colons": "Loaf\n\n{list}:\n{bare}\n\n{method}:\n{step}\n",
}


def _lines(language: str) -> list[str]:
    text = CORPUS.read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(row for row in text if not row.startswith("# "))
    found = [
        row["text"]
        for row in rows
        if row["language"] == language
        and "unread" not in row["state"]
        and row["text"][0].isalnum()
        and row["low"] not in ("", "none")
    ]
    random.Random(3).shuffle(found)
    return found


@pytest.mark.parametrize("language", WORDS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_line_comes_back_as_it_is_read_alone(language: str, layout: str) -> None:
    heads = dict(zip(("list", "method", "step"), WORDS[language], strict=True))
    market = "us" if language == "en" else "metric"
    lines = _lines(language)
    assert len(lines) > 40
    for start in range(0, len(lines), GROUP):
        group = lines[start : start + GROUP]
        bulleted = "\n".join(f"- {line}" for line in group)
        text = LAYOUTS[layout].format(bulleted=bulleted, bare="\n".join(group), **heads)
        found = {ln.text: ln for ln in read_recipe(text, language=language).lines}
        for line in group:
            assert line in found, f"{line!r} was dropped from:\n{text}"
            alone = read_line(line, language=language, market=market)
            here = found[line]
            assert (here.low, here.unit, here.role) == (
                alone.low,
                alone.unit,
                alone.role,
            )
