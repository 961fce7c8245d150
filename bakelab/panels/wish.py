"""From what stands in the controls to one fit; every refusal is a sentence."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from bakelab.errors import BakelabError, FitError, UnitError
from bakelab.formula import Formula
from bakelab.panels.controls import Controls
from bakelab.pans import Pan, pan, volume_of_water
from bakelab.reading import Recipe
from bakelab.scaling import Fitted, fit, likely_pans
from bakelab.units import Q_, number
from bakelab.weighing import Weighed, round_to_scale

__all__ = ["Answer", "Troubles", "answer_of", "in_panel_words", "pan_words"]

Found = TypeVar("Found")
MOST_PANS = 12
_BY_RATIO = "fit by the ratio of the pans' volumes"
_PANEL_WORDS = {
    "name one, such as style='white_pan', or fit by volume": (
        f"choose a style of bread, or {_BY_RATIO}"
    ),
    "fit by volume, or name a style that is baked in a pan, such as "
    "style='white_pan'": f"{_BY_RATIO}, or choose another style of bread",
    "name one, such as style='white_pan', or scale by dough weight": (
        "choose a style of bread, or fit to a dough weight"
    ),
    "give loss_pct, such as loss_pct=10": "give it, such as 10",
    "give loss_pct for yours": "give yours if you know it",
    "fit with by='loading', or to a dough mass": (
        "fit by the usual filling, or to a dough weight"
    ),
}


class Troubles(list[str]):
    """Sentences on what could not be understood, in the order of the panel."""

    def ask(self, label: str, read: Callable[[], Found]) -> Found | None:
        """What `read` gives, or None and its refusal under the control's name."""
        try:
            return read()
        except BakelabError as error:
            words = in_panel_words(str(error))
            self.append(f"{label}: {words}" if label else words)
            return None


@dataclass(frozen=True)
class Answer:
    """A fitted and weighed recipe; `from_note` says where its pan is from."""

    fitted: Fitted
    weighed: Weighed
    from_note: str
    likely: tuple[str, ...] = field(default=())


def answer_of(recipe: Recipe, controls: Controls, troubles: Troubles) -> Answer | None:
    """The fit that the controls ask for, or None with the reasons in `troubles`."""
    formula = recipe.formula
    if formula is None:
        troubles.append(
            "No line of the recipe could be weighed; give the grams of the flour and "
            "of the rest in the table of lines."
        )
        return None
    wish = _wish(controls, troubles)
    old = troubles.ask("The recipe's pan", lambda: _from_pan(controls, recipe, formula))
    if old is None or wish is None:
        return None
    old_pan, note, likely = old
    fitted = troubles.ask(
        "",
        lambda: fit(
            formula, from_=old_pan, by=controls.by.value, dome=_dome(controls),
            style=controls.style.value or None, **wish,
        ),
    )  # fmt: skip
    if fitted is None:
        return None
    weighed = troubles.ask(
        "My scale", lambda: round_to_scale(fitted.formula, controls.scale.value)
    )
    return None if weighed is None else Answer(fitted, weighed, note, likely)


def in_panel_words(text: str) -> str:
    """A sentence with the names of arguments put in the words of the panel."""
    for code, words in _PANEL_WORDS.items():
        text = text.replace(code, words)
    return text


def pan_words(pan: Pan) -> str:
    """A pan in one line; measures assumed from one pan are named together."""
    notes = "; ".join(pan.assumed_notes)
    whole = pan.describe()
    return f"{whole.partition(' (')[0]}; {notes}" if notes else whole


def _wish(controls: Controls, troubles: Troubles) -> dict[str, Any] | None:
    """Arguments of `fit` for what is aimed at."""
    before = len(troubles)
    aim = controls.aim.value
    wish: dict[str, Any] = {}
    sticks = troubles.ask(
        "Sticks to bowl and hands", lambda: _number(controls.sticking.value or "0")
    )
    wish["sticking_pct"] = sticks
    if aim == "pan":
        wish["to"] = troubles.ask("My pan", lambda: _to_pans(controls))
    elif aim == "pieces":
        wish["pieces"] = troubles.ask("Number of pieces", lambda: _count(controls))
        wish["piece"] = troubles.ask("Weight wanted", lambda: _mass(controls))
    else:
        wish[aim] = troubles.ask("Weight wanted", lambda: _mass(controls))
    if aim == "baked" and controls.loss.value.strip():
        wish["loss_pct"] = troubles.ask(
            "Bake loss", lambda: _number(controls.loss.value)
        )
    return wish if len(troubles) == before else None


def _from_pan(
    controls: Controls, recipe: Recipe, formula: Formula
) -> tuple[Pan | None, str, tuple[str, ...]]:
    """The pan the recipe was meant for, where that is from, and other guesses."""
    typed = controls.from_pan.value.strip()
    if typed:
        old = pan(typed)
        return old, f"As you gave it: {pan_words(old)}.", ()
    if recipe.pan is not None:
        return recipe.pan, f"Read from the recipe: {pan_words(recipe.pan)}.", ()
    if controls.aim.value != "pan":
        return None, "The recipe names no pan; none is needed for this.", ()
    try:
        table = likely_pans(formula, controls.style.value or None)
    except BakelabError:
        if controls.by.value == "volume":
            raise FitError(
                "the recipe names none, and none can be guessed; write it, choose one, "
                "or fit my pan by the usual filling"
            ) from None
        return None, "The recipe names no pan; the usual filling needs none.", ()
    best = table.iloc[0]
    guess = replace(pan(str(best["spec"])), count=_pans_in(best))
    note = f"The recipe names no pan. Guessed, please check: {best['text']}"
    return guess, note, tuple(str(text) for text in table["text"])


def _dome(controls: Controls) -> str | None:
    dome = str(controls.dome.value)
    return None if dome == "none" else dome


def _pans_in(row: Any) -> int:
    return int(row["count"]) * pan(str(row["spec"])).count


def _to_pans(controls: Controls) -> tuple[Pan, ...]:
    texts = [t for t in controls.to_pan.value.split(";") if t.strip()]
    if not texts:
        raise FitError("none is given yet; write it as 13 x 4 x 4 in, or choose one")
    if len(texts) > MOST_PANS:
        raise FitError(f"{len(texts)} pans are given; one batch fits {MOST_PANS}")
    found = [pan(text) for text in texts]
    if not all(p.has_volume for p in found):
        raise FitError(
            "a loaf without a pan has no volume; choose 'a dough weight' under 'Fit to'"
        )
    if controls.water_g.value.strip():
        found[0] = _measured(found[0], controls)
    return tuple(found)


def _measured(one: Pan, controls: Controls) -> Pan:
    """The pan with the capacity that weighing water gives."""
    grams = _number(controls.water_g.value)
    warmth = _number(controls.water_c.value or "20")
    volume = volume_of_water(Q_(grams, "g"), Q_(warmth, "degC"))
    measured = replace(one, capacity_cm3=float(volume.to("cm^3").magnitude))
    words = f"{one.text}, holds {grams:g} g water at {warmth:g} C"
    with suppress(BakelabError):  # in these words the book keeps it, if they hold
        if pan(words).capacity_cm3 == measured.capacity_cm3:
            return pan(words)
    return measured


def _mass(controls: Controls) -> str:
    text = str(controls.amount.value).strip()
    if not text:
        raise UnitError("none is given yet; write it as 900 g or 2 lb")
    try:
        number(text)
    except UnitError:
        return text
    return f"{text} g"


def _count(controls: Controls) -> int:
    count = _number(controls.pieces.value)
    if count != int(count) or not 1 <= count <= 10_000:
        raise UnitError(f"{count:g} pieces cannot be made; give a whole number from 1")
    return int(count)


def _number(text: str) -> float:
    bare = text.strip().removesuffix("%").removesuffix("g").removesuffix("°C").strip()
    if not bare:
        raise UnitError("no number is given yet; write one, such as 12")
    return float(number(bare))
