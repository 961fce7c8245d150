"""Names of a package that are imported when they are first asked for."""

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any

__all__ = ["later"]


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
