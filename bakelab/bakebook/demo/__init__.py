"""The demo book: half a year in an invented test kitchen, true numbers underneath.

Everything in it is made up by a generator with a seed: the kitchen at Lindenfurt Mill,
its people, breads, bakes, tastings and pictures. For each chart there is something
to show:

- **House loaf** (tag "weekly"): 24 Thursdays from 2026-01-08. Specific volume about
  4.30 cm³/g; from the 16th on 0.34 lower, when flour lot LM-17 came.
- **Two sizes** (plan "Two sizes", trial "pair 1" to "pair 8"): the same dough in the
  large and the small tin; the small tin loses 1.4 points more in the oven.
- **Plan of trials** (plan "Water and yeast", trials 1 to 12 in the small tin): water
  60 to 68 %, yeast 0.6 to 1.4 %, central composite with four middles; specific volume
  is best at 65.2 % water and 1.07 % yeast, trials scatter by 0.06 cm³/g.
- **Failures** (tag "failure"): forgotten salt, underproofed, overfilled tin,
  overproofed, underbaked. One bake was entered twice and is retired.
- **Readings**: the core (deck oven, real 12 K below the dial, heating 1.3), a jar or
  the height of the dough; notes, tags, drawn pictures, two corrected numbers.
- **Tastings**: a triangle test (less salt) and a ranking of four breads, answered.

The numbers underneath are in `TRUTH`.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from bakelab.bakebook.book import BakeBook
from bakelab.bakebook.demo.recipes import LARGE_TIN, PAIRS_NAME, PLAN_NAME, SMALL_TIN
from bakelab.bakebook.demo.truth import TRUTH
from bakelab.errors import BookError

if TYPE_CHECKING:
    from bakelab.bakebook.demo.made import MadeBake
    from bakelab.bakebook.demo.writing import DemoWriter

__all__ = [
    "INVENTED",
    "LARGE_TIN",
    "PAIRS_NAME",
    "PLAN_NAME",
    "SMALL_TIN",
    "TRUTH",
    "write_demo_book",
]

INVENTED = (
    "The kitchen at Lindenfurt Mill, its people, breads, bakes and tastings are "
    "invented; the numbers were made by a generator, the pictures are drawn."
)


def write_demo_book(
    path: str | os.PathLike[str],
    *,
    seed: int = 2026,
    folder: str | os.PathLike[str] | None = None,
) -> BakeBook:
    """Write the demo book, and open it.

    Parameters
    ----------
    path : str or Path
        A file that is not there yet, or an address as `BakeBook` takes it.
    seed : int
        The same seed gives the same book, ids and moments included.
    folder : str or Path, optional
        As for `BakeBook`.

    Raises
    ------
    BookError
        If the book has bakes or formulas already; nothing is written then.
    """
    book = BakeBook(path, folder=folder)
    try:
        if len(book.bakes(retired=True)) or len(book.formulas(retired=True)):
            raise BookError(
                f"{path} is a bake book in use; give a file that is not there yet"
            )
        _fill(book, seed)
    except BaseException:
        book.close()
        raise
    return book


def _fill(book: BakeBook, seed: int) -> None:
    """Everything, in one transaction; parts of it have their own chance."""
    import numpy as np

    from bakelab.bakebook.demo.diary import diary
    from bakelab.bakebook.demo.panels import demo_tastings
    from bakelab.bakebook.demo.recipes import demo_formulas, demo_plan
    from bakelab.bakebook.demo.writing import DemoWriter

    rng = np.random.default_rng(seed)
    pens, jars, tasters = (np.random.default_rng([seed, n]) for n in (1, 3, 6))
    formulas = demo_formulas()
    plan = demo_plan(formulas["mill"].formula)
    with book._writing() as db:
        writer = DemoWriter(db, book.photos_folder, rng, pens)
        keys = writer.formulas(formulas)
        numbers = plan.frame["trial"].astype(str)
        trials = dict(zip(numbers, writer.plan(plan), strict=True))
        writer.house()
        _write_bakes(writer, diary(formulas, plan, rng, jars), keys, trials)
        for at, name, columns in demo_tastings(formulas, tasters):
            writer.tasting(at, name, columns)
        writer.finish()


def _write_bakes(
    writer: DemoWriter,
    bakes: Sequence[MadeBake],
    keys: Mapping[str, str],
    trials: Mapping[str, str],
) -> None:
    """Each below its formula; then two numbers of the house loaf are corrected."""
    for made in bakes:
        wanted = made.wanted
        of_plan = wanted.plan == PLAN_NAME
        key = trials[wanted.trial] if of_plan else keys[wanted.formula]
        writer.bake(made, key)
    weekly = [made for made in bakes if "weekly" in made.wanted.tags]
    writer.correction(weekly[4], "loaf_out_g", 564.0)
    writer.correction(weekly[9], "proof_min", 6.0)
