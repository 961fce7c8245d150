"""Grammars that Altair's checker would build on import, put off until they are used.

Altair imports jsonschema, which takes its check of internationalised web
addresses (RFC 3987) from the package rfc3987-syntax, if JupyterLab brought it
along. That package builds 38 parsers when it is imported: three quarters of the
time to the first chart, for a check that no chart makes.
"""

import sys
from importlib import import_module
from importlib.util import find_spec, module_from_spec
from typing import Any

__all__ = ["put_off_parsers"]

_PACKAGE = "rfc3987_syntax"


def put_off_parsers() -> None:
    """Let `rfc3987_syntax` load on its first use instead of on its import.

    Its functions stay what they are; without the package nothing is done.
    """
    spec = None if _PACKAGE in sys.modules else find_spec(_PACKAGE)
    if spec is None:
        return
    package = module_from_spec(spec)
    package.is_valid_syntax = _is_valid_syntax  # type: ignore[attr-defined]
    package.__getattr__ = _found  # type: ignore[method-assign]
    sys.modules[_PACKAGE] = package


def _is_valid_syntax(term: str, value: str) -> bool:
    valid: bool = _found("is_valid_syntax")(term, value)
    return valid


def _found(name: str) -> Any:
    if name.startswith("__"):
        raise AttributeError(name)
    return getattr(import_module(f"{_PACKAGE}.syntax_helpers"), name)
