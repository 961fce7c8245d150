"""Options of the words that read a recipe, and of `bakelab fit`."""

import argparse

__all__ = ["add_aims", "add_language_and_market", "add_ways"]


def add_language_and_market(parser: argparse.ArgumentParser) -> None:
    """How the words and the measures of a recipe are taken."""
    parser.add_argument("--language", choices=("en", "de", "fr"), help="of the recipe")
    parser.add_argument(
        "--market",
        choices=("us", "uk", "metric", "australia", "japan", "label"),
        help="what a cup and a spoon mean",
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
    parser.add_argument("--from", dest="from_pan", help="pan the recipe was meant for")
    parser.add_argument("--by", choices=("volume", "loading"), help="way of fitting")
    parser.add_argument(
        "--dome",
        choices=("fixed", "width"),
        default="fixed",
        help="allowance above the rim of a pan without a lid",
    )
    parser.add_argument("--style", help="style whose usual bands count")
    parser.add_argument(
        "--scale",
        default="1 g, 0.1 g up to 20 g",
        help='what your scale shows, such as "1 g"',
    )
    parser.add_argument(
        "--sticking",
        type=float,
        default=0.0,
        help="percent of the dough that sticks to bowl and hands",
    )
    parser.add_argument(
        "--save",
        action="append",
        default=[],
        help="write a sheet or formula: .pdf .html .md .csv .json",
    )
