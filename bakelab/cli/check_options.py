"""The options of `bakelab check`."""

import argparse

from bakelab.cli.recipe_options import add_language_and_market

__all__ = ["add_arguments"]

_KINDS = ("conflict", "unlikely", "missing", "note")
_REPORTS = (
    ("sarif", "SARIF, for code hosts"),
    ("junit", "JUnit XML, for CI"),
    ("html", "a page with the findings marked in the text"),
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options of `bakelab check`."""
    parser.add_argument(
        "paths", nargs="+",
        help="files and folders (.md .txt .csv .html .json .ipynb); - for input",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print JSON for machines")
    for name, what in _REPORTS:
        parser.add_argument(f"--{name}", metavar="FILE", help=f"write {what}")
    parser.add_argument(
        "--fail-on", choices=_KINDS, default="conflict",
        help="exit with 1 if there is a finding of this kind or a more serious one",
    )  # fmt: skip
    parser.add_argument(
        "--show", choices=_KINDS, default="missing",
        help="the mildest kind that is printed (notes are left out by default)",
    )  # fmt: skip
    add_language_and_market(parser)
    parser.add_argument(
        "--style", help="style whose usual bands count, such as white_pan"
    )
    parser.add_argument(
        "--mend", metavar="FILE",
        help="write a corrected copy of the one file given; - shows the difference",
    )  # fmt: skip
