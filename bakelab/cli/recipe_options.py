"""Options of the words that read a recipe, and of `bakelab fit`."""

import argparse

from bakelab.cli.numbers import a_number

__all__ = ["add_aims", "add_language_and_market", "add_ways"]


def add_language_and_market(parser: argparse.ArgumentParser) -> None:
    """How the words and the measures of a recipe are taken."""
    parser.add_argument(
        "--language",
        choices=("en", "de", "fr"),
        help="language of the recipe; guessed if left out",
    )
    parser.add_argument(
        "--market",
        choices=("us", "uk", "metric", "australia", "japan", "label"),
        help="what a cup and a spoon mean; guessed if left out",
    )


def add_aims(parser: argparse.ArgumentParser) -> None:
    """What the recipe is fitted to; one is needed."""
    aim = parser.add_mutually_exclusive_group(required=True)
    aim.add_argument("--pan", action="append", help='such as "9 x 5 x 3 in loaf"')
    aim.add_argument("--dough", help="dough mass, such as 900 g")
    aim.add_argument("--flour", help="flour mass, such as 500 g")
    aim.add_argument("--pieces", help="count and weight, such as 12x60 g")
    aim.add_argument("--baked", help="baked mass of the loaf, such as 800 g")


def add_ways(parser: argparse.ArgumentParser) -> None:
    """How it is fitted, what the scale shows, and what is written."""
    _add_filling(parser)
    _add_weighing(parser)
    parser.add_argument(
        "--save",
        action="append",
        default=[],
        metavar="FILE",
        help="write a sheet or the formula, by the ending: .pdf .html .md .csv .json",
    )


def _add_filling(parser: argparse.ArgumentParser) -> None:
    """The pan it was meant for, and how full the new one is made."""
    parser.add_argument("--from", dest="from_pan", help="pan the recipe was meant for")
    parser.add_argument(
        "--by",
        choices=("volume", "loading"),
        help="fit by the volume of both pans, or by the usual filling of the style",
    )
    parser.add_argument(
        "--dome",
        choices=("fixed", "width"),
        default="fixed",
        help="room for the dome above a pan without a lid: fixed is 2.5 cm or 1 in, "
        "width is a quarter of the width",
    )
    parser.add_argument(
        "--style", help="style whose usual bands count, such as white_pan"
    )


def _add_weighing(parser: argparse.ArgumentParser) -> None:
    """What the scale shows, and what never gets into the pan."""
    parser.add_argument(
        "--scale",
        default="1 g, 0.1 g up to 20 g",
        help='what your scale shows, such as "1 g"',
    )
    parser.add_argument(
        "--sticking",
        type=a_number,
        metavar="PERCENT",
        default=0.0,
        help="percent of the dough that sticks to bowl and hands",
    )
