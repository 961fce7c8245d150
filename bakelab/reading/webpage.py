"""A recipe in a saved web page or JSON file: schema.org Recipe as JSON-LD."""

import html
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

__all__ = ["WebRecipe", "recipe_in_html", "recipe_in_json", "visible_text"]

_MOST_NODES = 20_000
_STEPS = ("recipeInstructions", "step", "instructions", "directions", "method", "steps")


@dataclass(frozen=True)
class WebRecipe:
    """The parts of a schema.org Recipe that the reader uses, as plain text."""

    title: str
    language: str
    ingredients: tuple[str, ...]
    method: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]


def recipe_in_json(text: str) -> WebRecipe | None:
    """The first Recipe anywhere in JSON text; None if there is none."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return None
    for node in _nodes(data):
        if _is_recipe(node):
            return _recipe(node)
    return None


def recipe_in_html(text: str) -> WebRecipe | None:
    """The first Recipe in the JSON-LD scripts of a page."""
    from bs4 import BeautifulSoup

    page = BeautifulSoup(text, "html.parser")
    for script in page.find_all("script", type=re.compile("ld\\+json", re.IGNORECASE)):
        body = script.get_text().strip().removeprefix("<!--").removesuffix("-->")
        found = recipe_in_json(body.strip().rstrip(";"))
        if found is not None:
            return found
    return None


def visible_text(text: str) -> str:
    """What a person reads of a page, a line for each block."""
    from bs4 import BeautifulSoup

    page = BeautifulSoup(text, "html.parser")
    for tag in page(["script", "style", "nav", "footer", "noscript", "template"]):
        tag.decompose()
    for tag in page.find_all(["li"]):
        tag.insert(0, "- ")
    for tag in page.find_all(re.compile("^h[1-6]$")):
        tag.insert(0, "\n# ")
    for tag in page.find_all(["li", "p", "div", "br", "tr", "h1", "h2", "h3", "h4"]):
        tag.append("\n")
    return re.sub(r"\n\s*\n+", "\n\n", page.get_text())


def _nodes(data: Any) -> Iterator[Mapping[str, Any]]:
    """Every object in the data, breadth first, bounded."""
    waiting = [data]
    for _ in range(_MOST_NODES):
        if not waiting:
            return
        node = waiting.pop(0)
        if isinstance(node, Mapping):
            yield node
            waiting.extend(v for v in node.values() if isinstance(v, (list, Mapping)))
        elif isinstance(node, list):
            waiting.extend(v for v in node if isinstance(v, (list, Mapping)))


def _is_recipe(node: Mapping[str, Any]) -> bool:
    kinds = node.get("@type", node.get("type", ""))
    names = kinds if isinstance(kinds, list) else [kinds]
    named = any(str(n).rsplit("/", 1)[-1].rsplit(":", 1)[-1] == "Recipe" for n in names)
    listed = node.get("ingredients")
    plain = isinstance(listed, list) and len(listed) > 1 and "@type" not in node
    return named or plain or ("recipeIngredient" in node and "@type" not in node)


def _recipe(node: Mapping[str, Any]) -> WebRecipe:
    listed = node.get("recipeIngredient") or node.get("ingredients") or []
    steps: Any = next((node[k] for k in _STEPS if node.get(k)), [])
    facts = [("yield", t) for t in _texts(node.get("recipeYield") or node.get("yield"))]
    facts += [("bake", t) for t in _texts(node.get("cookTime"))]
    method = [
        *_texts(steps),
        *_texts(node.get("description")),
        *_texts(node.get("tool")),
    ]
    return WebRecipe(
        html.unescape(next(iter(_texts(node.get("name") or node.get("title"))), "")),
        next(iter(_texts(node.get("inLanguage"))), "")[:2].casefold(),
        tuple(_lines(_texts(listed))),
        tuple(_lines(method)),
        tuple(facts),
    )


def _texts(value: Any, depth: int = 0) -> Iterator[str]:
    """All text of a value of any shape the standard allows, in order."""
    if value is None or depth > 12:
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield f"{value:g}"
    elif isinstance(value, list):
        for part in value:
            yield from _texts(part, depth + 1)
    elif isinstance(value, Mapping):
        yield from _object_texts(value, depth)


def _object_texts(value: Mapping[str, Any], depth: int) -> Iterator[str]:
    parts = value.get("itemListElement") or value.get("steps") or value.get("step")
    if parts is not None:
        yield from _texts(value.get("name"), depth + 1)
        yield from _texts(parts, depth + 1)
    elif isinstance(value.get("items"), list):
        yield from (f"{t}:" for t in _texts(value.get("title"), depth + 1))
        yield from _texts(value["items"], depth + 1)
    elif "item" in value:
        yield from _texts(value["item"], depth + 1)
    elif "value" in value:
        unit = value.get("unitText") or value.get("unitCode") or ""
        name = value.get("name") or ""
        yield f"{value['value']} {unit} {name}".strip()
    else:
        yield from _texts(value.get("text") or value.get("name"), depth + 1)


def _lines(texts: Iterable[str]) -> Iterator[str]:
    for text in texts:
        plain = re.sub(r"<(?:br|/p|/li|/div)\s*/?>", "\n", html.unescape(text))
        plain = re.sub(r"</?[a-zA-Z][^<>]{0,200}>", " ", plain)
        yield from (line.strip() for line in plain.split("\n") if line.strip())
