"""Names of a package that are imported when they are first asked for."""

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any

__all__ = ["later", "listed"]


def later(package: str, names: Mapping[str, str]) -> Callable[[str], Any]:
    """What a package takes as its ``__getattr__`` (PEP 562): nothing heavy before.

    Parameters
    ----------
    package : str
        The package, its ``__name__``.
    names : mapping of str to str
        The module of each public name.

    Raises
    ------
    AttributeError
        If the package has no such name.

    Examples
    --------
    >>> from bakelab.later import later
    >>> later("bakelab", {"Pan": "bakelab.pans"})("Pan").__name__
    'Pan'
    """

    def found(name: str) -> Any:
        if name not in names:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(names[name]), name)

    return found


def listed(package: str) -> Callable[[], list[str]]:
    """What a package takes as its ``__dir__``: its public names, imported or not.

    Examples
    --------
    >>> from bakelab.later import listed
    >>> "BakeBook" in listed("bakelab")()
    True
    """

    def names() -> list[str]:
        module = sys.modules[package]
        return sorted({*vars(module), *module.__all__})

    return names
