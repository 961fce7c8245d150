"""The volume of the loaf at hand: by displaced seeds, or from its height."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.bakebook.volumes import (
    reported_specific_volume,
    volume_by_displacement,
    volume_by_shape,
)
from bakelab.errors import BookError, UnitError
from bakelab.panels.answer_html import note
from bakelab.panels.bench.part import BenchPart, tall_button
from bakelab.panels.controls import beside, field, show
from bakelab.units import Q_, Quantity, number, quantity

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["VolumeEntry"]

_HOW = (
    "Let the loaf cool for 2 hours or more. Fill a box with small seeds (rape, millet) "
    "and strike it level; measure the seeds. Do the same with the loaf in the box. "
    "Without seeds: its height, and the shape of the tin."
)


class VolumeEntry(BenchPart):
    """Controls for the volume, shown when they are wanted.

    Attributes
    ----------
    open : ToggleButton
    alone, around, per_litre, by_seeds : widget
        Seeds in the empty box and around the loaf, what a litre of them weighs,
        and the button that takes the volume from them.
    wall, by_height : widget
        Where the crown begins, and the button that takes it from the height.
    """

    places = ("volume",)

    def __init__(self, book: "BakeBook", changed: Callable[[], None]) -> None:
        super().__init__(book, changed)
        self.open = widgets.ToggleButton(description="Measure the loaf's volume")
        self.open.add_class("bakelab-tall")
        self.alone = field("Seeds in the empty box (ml or g)", "such as 5 l or 3400 g")
        self.around = field("Seeds around the loaf (ml or g)", "such as 2,4 l")
        self.per_litre = field("A litre of seeds (g), if weighed", "such as 670")
        self.by_seeds = tall_button("Volume from the seeds")
        self.wall = field("Height where the crown begins (cm)", "blank is the rim")
        self.by_height = tall_button("Volume from the height")
        self._box = widgets.VBox([
            widgets.HTML(note(_HOW)),
            beside(self.alone, self.around, self.per_litre, least_px=140),
            self.by_seeds, self.wall, self.by_height,
        ])  # fmt: skip
        self.by_seeds.on_click(lambda _: self._do("volume", self._from_seeds))
        self.by_height.on_click(lambda _: self._do("volume", self._from_height))
        self.open.observe(lambda _: show(self._box, bool(self.open.value)), "value")
        show(self._box, False)

    def widgets(self) -> list[Any]:
        """The controls in order."""
        return [self.open, self._box, self.told["volume"]]

    def _draw(self, bake: "Bake | None", *, other: bool) -> None:
        if other or bake is None:
            for control in (self.alone, self.around, self.per_litre, self.wall):
                control.value = ""
            self.open.value = False

    def _from_seeds(self, bake: "Bake") -> str:
        litre = self.per_litre.value.strip()
        volume = volume_by_displacement(
            alone=_amount(self.alone.value, "seeds in the empty box", "ml"),
            around=_amount(self.around.value, "seeds around the loaf", "ml"),
            per_volume=_amount(litre, "a litre of seeds", "g") / Q_(1, "l")
            if litre
            else None,
        )
        return self._keep(bake, volume, "seed displacement", "")

    def _from_height(self, bake: "Bake") -> str:
        facts = bake.facts
        if not facts.get("pan") or not facts.get("height_cm"):
            raise BookError(
                "the height and the pan are not both written yet; fill them in first"
            )
        sides = {
            name: Q_(facts[f"{name}_cm"], "cm")
            for name in ("length", "width")
            if facts.get(f"{name}_cm")
        }
        wall = self.wall.value.strip()
        found = volume_by_shape(
            str(facts["pan"]),
            height=Q_(facts["height_cm"], "cm"),
            wall_height=_amount(wall, "the height of the crown", "cm")
            if wall
            else None,
            **sides,
        )
        band = f"; {found.low_cm3:.0f} to {found.high_cm3:.0f} cm³: {found.working}"
        return self._keep(bake, found.volume, "height and shape", band)

    def _keep(self, bake: "Bake", volume: Quantity, method: str, more: str) -> str:
        whole = float(round(volume.to("cm^3").magnitude))
        self._book.write(
            bake.id, version=bake.version, loaf_volume_cm3=whole, volume_method=method
        )
        loaf_g = bake.facts.get("loaf_out_g")
        said = f"{whole:.0f} cm³ by {method}{more}"
        if not loaf_g:
            return said
        specific = reported_specific_volume(volume=volume, mass=Q_(loaf_g, "g"))
        return f"{said}; {specific:.1f} cm³/g"


def _amount(text: str, name: str, unit: str) -> Quantity:
    """`5 l`, `3400 g`, or a bare number in the unit of the label."""
    if not text.strip():
        raise BookError(
            f"{name}: nothing is written; give a number such as 2400 {unit}"
        )
    try:
        return Q_(float(number(text)), unit)
    except UnitError:
        return quantity(text)
