"""Pages of the sheets out of the templates that lie beside this file."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jinja2 import Template

__all__ = ["page_of"]


def page_of(template: str, **values: Any) -> str:
    """A template of this folder filled in; every word is escaped.

    A value that the template asks for and does not get stops it.
    """
    return _template(template).render(**values)


@cache
def _template(name: str) -> "Template":
    from jinja2 import Environment, StrictUndefined

    source = Path(__file__).with_name(name).read_text(encoding="utf-8")
    return Environment(autoescape=True, undefined=StrictUndefined).from_string(source)
