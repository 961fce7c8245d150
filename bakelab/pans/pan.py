"""A baking pan: its inside measures, what it holds, and how it was written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from typing import Any

from bakelab.errors import PanError
from bakelab.pans.geometry import less_fluting
from bakelab.pans.limits import LENGTHS, check_pan, measures_of
from bakelab.pans.shapes import Form, form_name
from bakelab.pans.water import volume_of_water
from bakelab.units import Q_, Quantity, in_unit

__all__ = ["CM_PER_INCH", "DOMES", "Pan"]

CM_PER_INCH = 2.54  # exact; UCUM essence table
DOME_CM = {"in": 2.54, "cm": 2.5}  # common practice, no source: 1 in or 2.5 cm
DOME_SHARE_OF_WIDTH = 0.25  # common practice, no source: 2.5 cm on 10 cm
DOMES = ("fixed", "width")


@dataclass(frozen=True)
class Pan:
    """A pan, or several of one kind, by inside measures in centimetres.

    Parameters
    ----------
    shape : str
        One of :data:`bakelab.pans.SHAPES`.
    length_cm, width_cm, diameter_cm : float, optional
        Inside, at the rim.
    depth_cm : float, optional
        Inside height, upright, not along the slope.
    base_length_cm, base_width_cm, base_diameter_cm : float, optional
        Inside, at the bottom; None means straight walls.
    tube_cm : float, optional
        Outside diameter of the tube in the middle, mean over its height.
    corner_cm : float
        Radius of the upright corners.
    fluting_pct : float
        Share of a smooth pan's volume that flutes take away (an allowance).
    capacity_cm3 : float, optional
        Measured capacity of one pan, to the rim; it stands in for geometry.
    count : int
        Pans, joined pans or wells.
    lidded : bool
        A closed lid: the pan is used to its rim, with no dome.
    dome_unit : {"cm", "in"}
        The unit the pan was given in; it settles the fixed dome allowance.
    assumed : tuple of str
        Measures nobody wrote, each as ``"depth 7 cm: where it is from"``.

    Raises
    ------
    PanError
        If a measure is missing, not above zero, or past 200 cm.

    Examples
    --------
    >>> tin = Pan("loaf", length_cm=30, width_cm=10, depth_cm=7,
    ...           base_length_cm=28, base_width_cm=8)
    >>> print(f"{tin.volume:.0f~P}")
    1829 cm³
    """

    shape: str
    length_cm: float | None = None
    width_cm: float | None = None
    depth_cm: float | None = None
    diameter_cm: float | None = None
    base_length_cm: float | None = None
    base_width_cm: float | None = None
    base_diameter_cm: float | None = None
    tube_cm: float | None = None
    corner_cm: float = 0.0
    fluting_pct: float = 0.0
    capacity_cm3: float | None = None
    count: int = 1
    lidded: bool = False
    dome_unit: str = "cm"
    name: str = ""
    text: str = field(default="", compare=False)
    assumed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        check_pan(self)

    @cached_property
    def form(self) -> Form:
        """Volume to the rim, areas and wall of one pan, by geometry alone."""
        return Form.of(self.form_name, measures_of(self))

    @property
    def form_name(self) -> str:
        """How it is computed: flat, round, ring, oval or free."""
        return form_name(self.shape, round_rim=self.diameter_cm is not None)

    @property
    def has_volume(self) -> bool:
        """Whether there is a pan at all; a loaf on the hearth stands free."""
        return self.form_name != "free"

    @property
    def geometric_volume(self) -> Quantity:
        """Volume of one pan to its rim from its measures, less fluting, cm3."""
        self._needs_volume()
        return Q_(less_fluting(self.form.volume_cm3, self.fluting_pct), "cm^3")

    @property
    def volume(self) -> Quantity:
        """Volume of one pan to its rim, measured if known, else geometry, cm3."""
        if self.capacity_cm3 is not None:
            return Q_(self.capacity_cm3, "cm^3")
        return self.geometric_volume

    @property
    def total_volume(self) -> Quantity:
        """Volume of all `count` pans or wells to the rim, cm3."""
        result: Quantity = self.volume * float(self.count)
        return result

    @property
    def top_area(self) -> Quantity:
        """Area of the opening of one pan at its rim, cm2."""
        self._needs_volume()
        return Q_(self.form.rim_area_cm2, "cm^2")

    @property
    def surface(self) -> Quantity:
        """Wall and base of one pan, the metal a dough touches, cm2.

        Flutes are not added: a fluted pan has more.
        """
        self._needs_volume()
        return Q_(self.form.wall_cm2 + self.form.base_area_cm2, "cm^2")

    @property
    def depth(self) -> Quantity:
        """Inside height, cm."""
        self._needs_volume()
        return Q_(float(self.depth_cm or 0.0), "cm")

    @property
    def width(self) -> Quantity:
        """Narrowest measure of the opening, cm; of a ring, from wall to tube."""
        self._needs_volume()
        return Q_(self.form.width_cm, "cm")

    @property
    def assumed_measures(self) -> Mapping[str, float]:
        """Measures that were assumed, not written, with their values."""
        names = {label_field(note) for note in self.assumed}
        return {n: getattr(self, n) for n in sorted(names & set(LENGTHS))}

    @property
    def assumed_notes(self) -> tuple[str, ...]:
        """What was assumed, measures of one basis in one note."""
        grouped: dict[str, list[str]] = {}
        for note in self.assumed:
            what, _, basis = note.partition(": ")
            grouped.setdefault(basis, []).append(what)
        return tuple(
            f"{', '.join(whats)}: {basis}" if basis else whats[0]
            for basis, whats in grouped.items()
        )

    @property
    def text_spec(self) -> str:
        """A short text that :func:`bakelab.pans.pan` reads back as this pan."""
        from bakelab.pans.writing import write_spec

        return write_spec(self)

    def dome_height(self, dome: str | None = "fixed") -> Quantity:
        """Height allowed above the rim for the dome of an open loaf.

        Common practice, no source: a fixed 1 in (2.5 cm for a pan given in
        cm), or a quarter of the width of the opening. None with a lid.
        """
        if dome is not None and dome not in DOMES:
            raise PanError(
                f"no dome rule {dome!r}; choose 'fixed' (1 in or 2.5 cm), "
                "'width' (a quarter of the width) or None"
            )
        if dome is None or self.lidded:
            return Q_(0.0, "cm")
        if dome == "width":
            result: Quantity = self.width * DOME_SHARE_OF_WIDTH
            return result
        return Q_(DOME_CM[self.dome_unit], "cm")

    def usable_volume(self, dome: str | None = "fixed") -> Quantity:
        """Room for the risen loaf in one pan: to the rim, and a dome, cm3.

        Parameters
        ----------
        dome : {"fixed", "width", None}
            See :meth:`dome_height`; a lidded pan is used to its rim.
        """
        result: Quantity = (self.volume + self.top_area * self.dome_height(dome)).to(
            "cm^3"
        )
        return result

    def with_capacity(
        self,
        *,
        grams: Quantity | None = None,
        temperature: Quantity | None = None,
        volume: Quantity | None = None,
    ) -> Pan:
        """This pan with the capacity that was measured, one pan to the rim.

        Give either `grams` of water and its `temperature`, or a `volume`.
        """
        if volume is None:
            if grams is None or temperature is None:
                raise PanError(
                    "a capacity needs the grams of water and its temperature, "
                    "or a volume; give one of the two"
                )
            volume = volume_of_water(grams, temperature)
        return replace(self, capacity_cm3=in_unit(volume, "cm^3", "volume"))

    def describe(self) -> str:
        """One line for people: shape, measures, volume, and what was assumed."""
        from bakelab.pans.writing import describe

        return describe(self)

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON; a measure nobody wrote is None.

        Assumed measures are in ``assumed_cm`` with their values and in
        ``assumed`` with their basis, so that nothing is lost.
        """
        data = {f.name: getattr(self, f.name) for f in fields(self)}
        data |= dict.fromkeys(self.assumed_measures)
        data["assumed"] = list(self.assumed)
        data["assumed_cm"] = dict(self.assumed_measures)
        volume = self.volume.magnitude if self.has_volume else None
        return data | {"volume_cm3": volume}

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Pan:
        """The pan that :meth:`to_dict` wrote down."""
        known = {f.name for f in fields(cls)}
        kept = {k: v for k, v in data.items() if k in known}
        if "shape" not in kept:
            raise PanError("a pan needs a shape; this data has none")
        kept |= dict(data.get("assumed_cm") or {})
        kept["assumed"] = tuple(kept.get("assumed") or ())
        return cls(**kept)

    def _needs_volume(self) -> None:
        if not self.has_volume:
            raise PanError(
                "a free-standing loaf has no pan and so no volume; "
                "scale it by dough weight"
            )


def label_field(note: str) -> str:
    """The field that a note such as ``"base length 20 cm: …"`` is about."""
    words: list[str] = []
    for word in note.split(" ", 4)[:3]:
        if not word.isalpha():
            break
        words.append(word)
    return "_".join(words) + "_cm"
