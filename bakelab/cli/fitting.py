"""`bakelab fit`: a recipe's weights for another pan, dough or flour mass."""

import argparse
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from bakelab.cli.reading import recipe_of
from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven import bake_sentences
from bakelab.reading import Recipe
from bakelab.scaling import Fitted, fit
from bakelab.weighing import Weighed, round_to_scale, scale_from_text

__all__ = ["fit_file", "fitted_dict"]

_PIECES = re.compile(r"^\s*(\d+)\s*[x×*]\s*(.+)$", re.IGNORECASE)
_OPTIONS = {
    "style='white_pan'": "--style white_pan",
    "give from_, such as from_='loaf 9 x 5 x 3 in'": (
        "give it, such as --from 'loaf 9 x 5 x 3 in'"
    ),
    "by='loading'": "--by loading",
}
_SHEETS = (".pdf", ".html", ".md")


def fit_file(options: argparse.Namespace) -> int:
    """Print the fitted weights; 1 if a line of the recipe was left out."""
    recipe = recipe_of(options)
    fitted = _fitted(_formula(recipe), options)
    weighed = round_to_scale(fitted.formula, scale_from_text(options.scale))
    left_out = _left_out(recipe)
    bake = bake_sentences(fitted) if fitted.to_pans else ()
    for file in options.save:
        _save(Path(file), fitted, weighed, recipe, bake)
    if options.json:
        data = {**fitted_dict(recipe, fitted, weighed, left_out), "bake": list(bake)}
        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        notes = (*recipe.remarks, *left_out)
        print("\n".join(_shown(fitted, weighed, notes, bake)))
    return int(bool(left_out))


def fitted_dict(
    recipe: Recipe, fitted: Fitted, weighed: Weighed, left_out: tuple[str, ...]
) -> Mapping[str, Any]:
    """Plain data with the documented keys of `bakelab fit --json`."""
    pans = [p.to_dict() for p in fitted.to_pans]
    old = fitted.from_pan
    rows = weighed.frame[
        ["ingredient", "label", "exact_g", "weigh_g", "off_pct", "risk_pct"]
    ]
    return {
        **recipe.to_dict(),
        "from_pan": None if old is None else old.to_dict(),
        "to_pan": pans[0] if pans else None,
        "to_pans": pans,
        "factor": fitted.factor,
        "by": fitted.by,
        "loading_cm3_g": fitted.loading_cm3_g,
        "flour_g": fitted.formula.flour_g,
        "dough_g": fitted.formula.dough_g,
        "weigh": rows.to_dict("records"),
        "working": list(fitted.working),
        "remarks": [*recipe.remarks, *left_out, *fitted.remarks, *weighed.remarks],
    }


def _formula(recipe: Recipe) -> Formula:
    if recipe.formula is None:
        raise FitError(
            "no line of this recipe could be weighed; "
            "see what is understood of it with bakelab read"
        )
    recipe.formula.require_flour()
    return recipe.formula


def _fitted(formula: Formula, options: argparse.Namespace) -> Fitted:
    aims: dict[str, Any] = {"dough": options.dough, "flour": options.flour,
                            "baked": options.baked}  # fmt: skip
    if options.pieces:
        aims |= _pieces(options.pieces)
    known = bool(options.from_pan or formula.stated_pan)
    by = options.by or ("volume" if known else "loading")
    try:
        return fit(
            formula,
            to=options.pan,
            from_=options.from_pan,
            by=by,
            dome=options.dome,
            style=options.style,
            sticking_pct=options.sticking,
            **{name: value for name, value in aims.items() if value},
        )
    except FitError as error:
        raise FitError(_in_options(str(error))) from None


def _in_options(text: str) -> str:
    """A refusal with the names of arguments put as options of the command."""
    if "or fit by volume" in text:
        text += " (--by volume, with the recipe's pan as --from '9 x 5 x 3 in loaf')"
    for code, option in _OPTIONS.items():
        text = text.replace(code, option)
    return text


def _pieces(text: str) -> dict[str, Any]:
    match = _PIECES.match(text)
    if match is None:
        raise FitError(f"pieces are a count and a weight such as 12x60 g, got {text!r}")
    if not int(match[1]):
        raise FitError(f"got {text!r}; make at least one piece, such as 1x{match[2]}")
    return {"pieces": int(match[1]), "piece": match[2]}


def _left_out(recipe: Recipe) -> tuple[str, ...]:
    """Sentences on lines that have no weight and so are not in the formula."""
    return tuple(
        f"left out, give its grams: {line.text}"
        for line in recipe.lines
        if line.state in ("doubt", "unread") and line.mass_g is None
    )


def _save(
    path: Path, fitted: Fitted, weighed: Weighed, recipe: Recipe, bake: tuple[str, ...]
) -> None:
    from bakelab.sheets import export, kitchen_sheet, sheet_html, sheet_pdf, to_markdown

    suffix = path.suffix.casefold()
    if suffix not in _SHEETS:
        export(fitted, path)
        return
    lines = [line.text for line in recipe.lines]
    sheet = kitchen_sheet(fitted, weighed, recipe_lines=lines, bake=bake)
    content = {
        ".pdf": lambda: sheet_pdf(sheet),
        ".html": lambda: sheet_html(sheet).encode(),
        ".md": lambda: to_markdown(sheet).encode(),
    }[suffix]()
    try:
        path.write_bytes(content)
    except OSError as error:
        raise FitError(
            f"cannot write {path} ({error.strerror}); choose another place"
        ) from None


def _shown(
    fitted: Fitted,
    weighed: Weighed,
    notes: tuple[str, ...],
    bake: tuple[str, ...],
) -> Iterator[str]:
    formula = fitted.formula
    yield formula.title or "Recipe without a title"
    if fitted.from_pan is not None:
        yield f"from  {fitted.from_pan.describe()}"
    for pan in fitted.to_pans:
        yield f"to    {pan.describe()}"
    yield (
        f"flour {formula.flour_g:.0f} g, dough {formula.dough_g:.0f} g "
        f"(times {fitted.factor:.3f})"
    )
    yield ""
    yield from _weights(weighed)
    yield ""
    yield from (f"- {step}" for step in fitted.working)
    yield from (f"oven: {text}" for text in bake)
    fitting = [
        t for t in fitted.remarks if not (weighed.eggs and t.startswith("Eggs:"))
    ]
    yield from (f"! {text}" for text in (*notes, *fitting, *weighed.remarks))
    yield from (
        f"Assumed: {a.subject}: {a.value} ({a.basis})" for a in formula.assumptions
    )


def _weights(weighed: Weighed) -> Iterator[str]:
    yield f"{'weigh':>10}  {'% of flour':>10}  {'rounding':>10}  ingredient"
    stage = ""
    several = len(weighed.formula.stages) > 1
    for row, pct in zip(
        weighed.frame.to_dict("records"),
        weighed.formula.frame["bakers_pct"],
        strict=True,
    ):
        if several and row["stage"] != stage:
            stage = row["stage"]
            yield f"{stage[:1].upper()}{stage[1:]}"
        yield (
            f"{row['weigh_g']:>8.10g} g  {pct:>10.1f}  {row['off_pct']:>+8.1f} %  "
            f"{row['label']}"
        )
