"""A recipe in a saved web page or JSON file: schema.org Recipe as JSON-LD."""

import html
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from bakelab.formula.model import whole_text

__all__ = ["WebRecipe", "recipe_in_html", "recipe_in_json", "visible_text"]

_MOST_NODES = 20_000
_LONGEST_PAGE = 400_000  # characters of a page, without scripts, that are shown
_SCRIPT = re.compile(r"<script\b[^<>]{0,300}ld\+json[^<>]{0,300}>", re.IGNORECASE)
_SCRIPT_END = re.compile(r"</script", re.IGNORECASE)
_OPEN_TAG = re.compile(r"<(?=[^<>]*(?:<|\Z))")  # a tag that nothing closes
_UNSEEN = re.compile(r"<(script|style|svg)\b[^<>]{0,2000}>", re.IGNORECASE)
_NAME_KEYS = ("item", "ingredient", "name", "text")
_COUNT_KEYS = ("quantity", "amount", "qty")
_UNIT_KEYS = ("unit", "units", "measure", "unitText")
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
    for opening in _SCRIPT.finditer(text):
        stop = _SCRIPT_END.search(text, opening.end())
        body = text[opening.end() : stop.start() if stop else len(text)].strip()
        body = body.removeprefix("<!--").removesuffix("-->")
        found = recipe_in_json(body.strip().rstrip(";"))
        if found is not None:
            return found
    return None


def visible_text(text: str) -> str:
    """What a person reads of a page, a line for each block."""
    from bs4 import BeautifulSoup

    page = BeautifulSoup(_without_scripts(text)[:_LONGEST_PAGE], "html.parser")
    for tag in page(["script", "style", "nav", "footer", "noscript", "template"]):
        tag.decompose()
    for tag in page.find_all(["li"]):
        tag.insert(0, "- ")
    for tag in page.find_all(re.compile("^h[1-6]$")):
        tag.insert(0, "\n# ")
    for tag in page.find_all(["li", "p", "div", "br", "tr", "h1", "h2", "h3", "h4"]):
        tag.append("\n")
    return re.sub(r"\n\s*\n+", "\n\n", page.get_text())


def _without_scripts(text: str) -> str:
    """A page without its scripts and styles, found from tag to tag."""
    kept: list[str] = []
    place = 0
    while (opening := _UNSEEN.search(text, place)) is not None:
        kept.append(text[place : opening.start()])
        closing = text.find(f"</{opening.group(1)}", opening.end())
        place = closing if closing >= 0 else len(text)
    return _OPEN_TAG.sub(" ", "".join([*kept, text[place:]]))


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
        yield whole_text(value)
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
    elif (name := _first(value, _NAME_KEYS)) and (count := _first(value, _COUNT_KEYS)):
        how = _first(value, ("preparation", "notes", "note"))
        line = f"{count} {_first(value, _UNIT_KEYS)} {name}"
        yield f"{line}, {how}" if how else line
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


def _first(value: Mapping[str, Any], keys: Iterable[str]) -> str:
    """The first of some keys that holds a word or a number, as text."""
    for key in keys:
        found = value.get(key)
        if isinstance(found, (str, int, float)) and not isinstance(found, bool):
            return f"{found:g}" if isinstance(found, float) else str(found)
    return ""


def _lines(texts: Iterable[str]) -> Iterator[str]:
    for text in texts:
        plain = re.sub(r"<(?:br|/p|/li|/div)\s*/?>", "\n", html.unescape(text))
        plain = re.sub(r"</?[a-zA-Z][^<>]{0,200}>", " ", plain)
        yield from (line.strip() for line in plain.split("\n") if line.strip())
