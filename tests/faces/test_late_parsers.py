"""Charts do not wait for grammars that they never use, and nobody loses them."""

import subprocess
import sys

START = """
import sys
import bakelab.charts
import altair
assert "rfc3987_syntax.syntax_helpers" not in sys.modules, "built although unused"
"""
CHECK = """
from jsonschema import Draft202012Validator
checker = Draft202012Validator.FORMAT_CHECKER
for address in ("http://exämple.org/brot", "a b"):
    print(checker.conforms(address, "iri"))
import rfc3987_syntax
print(rfc3987_syntax.is_valid_syntax_iri("http://exämple.org"))
print(hasattr(rfc3987_syntax, "no_such_rule"))
"""


def _printed(code: str) -> list[str]:
    command = [sys.executable, "-X", "utf8", "-c", code]
    done = subprocess.run(
        command, capture_output=True, check=True, text=True, encoding="utf-8"
    )
    return done.stdout.split()


def test_a_chart_library_starts_without_its_address_parsers():
    assert _printed(START) == []


def test_internationalised_addresses_are_still_checked():
    """RFC 3987: letters beyond ASCII are allowed, a space is not."""
    assert _printed(START + CHECK) == ["True", "False", "True", "False"]


def test_a_package_that_is_loaded_already_is_left_alone():
    code = "import rfc3987_syntax as a, bakelab.charts, rfc3987_syntax as b"
    assert _printed(f"{code}\nprint(a is b, a.__name__)") == ["True", "rfc3987_syntax"]
