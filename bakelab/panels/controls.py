"""The controls of the panel that fits a recipe to a pan, and where they stand."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import ipywidgets as widgets
from traitlets import validate

from bakelab.panels.samples import sample_recipes
from bakelab.pans import pans
from bakelab.ranges import styles
from bakelab.reading import MARKETS
from bakelab.sheets import PAPERS
from bakelab.weighing import (
    HALF_GRAM_SCALE,
    KITCHEN_SCALE,
    QUARTER_OUNCE_SCALE,
    SPOON_AND_KITCHEN_SCALE,
    Scale,
)

__all__ = ["SAVE_FORMATS", "Controls", "beside", "choice", "field", "heading", "show"]

SCALES: Mapping[str, Scale] = MappingProxyType(
    {
        "1 g, and 0.1 g up to 50 g (spoon scale)": SPOON_AND_KITCHEN_SCALE,
        "1 g": KITCHEN_SCALE,
        "0.5 g": HALF_GRAM_SCALE,
        "0.1 g throughout": Scale(((float("inf"), 0.1),), "fine scale"),
        "¼ oz": QUARTER_OUNCE_SCALE,
    }
)
AIMS = (
    ("my pan", "pan"),
    ("a dough weight", "dough"),
    ("a flour weight", "flour"),
    ("pieces of a weight", "pieces"),
    ("a baked weight", "baked"),
)
WAYS = (
    ("ratio of the pans' volumes", "volume"),
    ("usual filling for the style (cm³ of pan per g)", "loading"),
)
DOMES = (
    ("1 in (2.5 cm) above the rim", "fixed"),
    ("a quarter of the pan's width", "width"),
    ("none", "none"),
)
SAVE_FORMATS = (
    ("formula as CSV", "csv"),
    ("formula as JSON, lossless", "json"),
    ("sheet as Markdown", "markdown"),
    ("recipe as schema.org JSON-LD", "schema.org"),
    ("sheet as a web page", "html"),
)
FILE_KINDS = ".txt,.md,.csv,.tsv,.html,.htm,.json,.jsonld"


class Controls:
    """Every control by name, each with a label in whole words and units."""

    def __init__(self) -> None:
        self._recipe()
        self._pans()
        self._fit()
        self._own_weights()
        self._leaving()

    def _recipe(self) -> None:
        samples = [("my own, pasted below", ""), *sample_recipes().items()]
        self.sample = choice("Sample recipe", samples)
        self.upload = widgets.FileUpload(
            accept=FILE_KINDS, multiple=False, description="Open a file"
        )
        self.upload.tooltip = "Open a recipe file: .txt, .md, .csv, .html or .json"
        self.text = widgets.Textarea(
            description="Recipe as written",
            placeholder="Paste a recipe here, an ingredient on each line",
            rows=7,
        )
        words = [("as the recipe's words suggest", "")]
        known = [(_market_words(key), key) for key in MARKETS]
        self.market = choice("Cups and spoons are", [*words, *known])

    def _pans(self) -> None:
        usual = [("choose", ""), *((r["name"], key) for key, r in pans().iterrows())]
        self.from_pan = field("The recipe's pan", "as the recipe says")
        self.from_usual = choice("or a usual pan", usual)
        self.to_pan = field("My pan", "such as 13 x 4 x 4 in, lidded")
        self.to_usual = choice("or a usual pan for mine", usual)
        self.to_usual.description = "or a usual pan"
        self.water_g = field("Water that fills my pan (g)", "if weighed")
        self.water_c = field("Temperature of that water (°C)", "20", "20")

    def _fit(self) -> None:
        self.aim = choice("Fit to", AIMS)
        self.amount = field("Weight wanted", "such as 900 g")
        self.pieces = field("Number of pieces", "such as 12")
        self.loss = field("Bake loss (% of the dough)", "usual for the style")
        self.by = choice("Fit my pan by", WAYS)
        self.dome = choice("Room for the dome", DOMES)
        named = [(r["name"], r["style"]) for _, r in styles().iterrows()]
        self.style = choice("Style of bread", [("as the formula suggests", ""), *named])
        self.scale = choice("My scale shows", list(SCALES.items()))
        self.sticking = field("Sticks to bowl and hands (%)", "0", "0")

    def _own_weights(self) -> None:
        self.measure = choice("In my kitchen, weighs", [("-", "")])
        self.measure.description = "In my kitchen"
        self.own_g = field("weighs (g)", "grams")
        self.keep = widgets.Button(description="Keep for good")
        self.forget = widgets.Button(description="Forget mine")

    def _leaving(self) -> None:
        self.paper = choice("Paper", [(_paper(p), p) for p in PAPERS])
        self.print_sheet = widgets.Button(description="Print the sheet")
        self.save_as = choice("Save", SAVE_FORMATS)
        self.save = widgets.Button(description="Save")

    def asked(self) -> Iterable[Any]:
        """The controls whose value the answer depends on."""
        return (
            self.text, self.market, self.from_pan, self.to_pan, self.water_g,
            self.water_c, self.aim, self.amount, self.pieces, self.loss, self.by,
            self.dome, self.style, self.scale, self.sticking,
        )  # fmt: skip


def field(label: str, hint: str, value: str = "") -> Any:
    """One line of text, taken over on Enter or on leaving it."""
    return widgets.Text(
        value=value, description=label, placeholder=hint, continuous_update=False
    )


class Choice(widgets.Dropdown):  # type: ignore[misc]
    """A list whose choice stays when the page names an entry that is gone by now."""

    @validate("index")
    def _validate_index(self, proposal: Any) -> int | None:
        asked: int | None = proposal.value
        if asked is None or 0 <= asked < len(self.options):
            return asked
        values = [value for _, value in self.options]
        return values.index(self.value) if self.value in values else None


def choice(label: str, options: Sequence[tuple[str, Any]]) -> Choice:
    """A list to choose from; the first one is chosen."""
    return Choice(options=options, value=options[0][1], description=label)


def beside(*controls: Any, least_px: int = 150) -> Any:
    """Controls in a row, each so wide at least; it wraps where it is narrow."""
    row = widgets.HBox(list(controls))
    row.add_class("bakelab-row")
    row.layout.grid_template_columns = (
        f"repeat(auto-fit, minmax(min({least_px}px, 100%), 1fr))"
    )
    return row


def heading(text: str) -> Any:
    """A heading inside the panel."""
    return widgets.HTML(f"<h2>{text}</h2>")


def show(control: Any, visible: bool) -> None:
    """Show or hide a control, for every reader alike."""
    control.layout.display = None if visible else "none"


def _market_words(key: str) -> str:
    market = MARKETS[key]
    return (
        f"{market.name}: cup {market.cup_ml:.0f} mL, tablespoon {market.tbsp_ml:.0f} mL"
    )


def _paper(paper: str) -> str:
    return {"a4": "A4", "us-letter": "US Letter"}.get(paper, paper)
