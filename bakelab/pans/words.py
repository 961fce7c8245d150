"""Words that name pans in English, German and French, and what each tells.

A *head* is the noun itself (`pan`, `Kastenform`, `moule`); a *side word* stands
beside it and tells its shape (`loaf`, `rund`, `à cake`), its size or its state.
Words are in lower case. They are common words of the trade; where people write
a maker's word for a shape, it is understood and shown under the plain name.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

__all__ = [
    "COUNTS",
    "COVERED",
    "DEFINITE",
    "DIAMETER_WORDS",
    "ENGLISH_FORM",
    "FILLERS",
    "HEADS",
    "LID_WORDS",
    "NAMED_SIDES",
    "SHAPE_RANK",
    "SIDES",
    "SIZE_WORDS",
    "Head",
]


class Head(NamedTuple):
    """A pan noun: the shape it tells (or ""), how much it needs beside it."""

    shape: str
    need: str  # "" stands alone; "size" or "shape" or "oven" or "dough"
    language: str


def _words(text: str) -> list[str]:
    return text.split()


def _german() -> dict[str, Head]:
    shapes = {
        "loaf": "kasten kastenback kastenkuchen königskuchen brot brotback toastbrot "
        "toast rehrücken stollenback",
        "springform": "spring",
        "fluted tube": "gugelhupf guglhupf napfkuchen",
        "tube": "kranz kranzkuchen savarin ring",
        "pie": "tarte tart quiche pie obstkuchen obstboden tortenboden",
        "dish": "auflauf gratin lasagne ofen",
        "round": "rund torten brioche",
        "muffin": "muffin",
        "square": "quadrat",
        "rectangle": "rechteck",
    }
    heads = {}
    for shape, prefixes in shapes.items():
        for prefix in _words(prefixes):
            for end in ("form", "formen", "förmchen", "backform", "backformen"):
                heads[prefix + end] = Head(shape, "", "de")
    for word in _words("backform backformen kuchenform kuchenformen silikonform form "
                       "formen backrahmen auflaufschale"):
        heads[word] = Head("", "size", "de")
    for stem in _words("back kuchen ofen backofen"):
        for end in ("blech", "bleche", "blechs", "blechen"):
            heads[stem + end] = Head("sheet", "", "de")
    heads |= dict.fromkeys(_words("blech bleche blechs fettpfanne"),
                           Head("sheet", "", "de"))
    heads |= dict.fromkeys(_words("muffinblech muffinbleche muffinsblech"),
                           Head("muffin", "", "de"))
    heads |= dict.fromkeys(_words("pizzablech pizzableche"), Head("round", "", "de"))
    heads |= dict.fromkeys(_words("bräter gusstopf gusseisentopf schmortopf brottopf"),
                           Head("pot", "", "de"))
    heads |= dict.fromkeys(_words("topf"), Head("pot", "oven", "de"))
    heads |= dict.fromkeys(_words("pfanne gusspfanne eisenpfanne"),
                           Head("skillet", "oven", "de"))
    return heads


HEADS: Mapping[str, Head] = MappingProxyType(
    {
        **dict.fromkeys(_words("pan pans tin tins"), Head("", "size", "en")),
        **dict.fromkeys(_words("mold molds mould moulds"), Head("", "size", "en")),
        **dict.fromkeys(_words("dish dishes"), Head("dish", "shape", "en")),
        **dict.fromkeys(_words("casserole casseroles"), Head("dish", "size", "en")),
        **dict.fromkeys(_words("tray trays"), Head("sheet", "shape", "en")),
        **dict.fromkeys(_words("sheet sheets"), Head("sheet", "shape", "en")),
        **dict.fromkeys(_words("plate plates"), Head("pie", "shape", "en")),
        **dict.fromkeys(_words("skillet skillets"), Head("skillet", "oven", "en")),
        **dict.fromkeys(_words("pot pots oven ovens"), Head("pot", "oven", "en")),
        **dict.fromkeys(_words("springform springforms"), Head("springform", "", "en")),
        **dict.fromkeys(_words("ramekin ramekins"), Head("round", "size", "en")),
        **dict.fromkeys(_words("rounds"), Head("round", "dough", "en")),
        **dict.fromkeys(_words("squares"), Head("square", "dough", "en")),
        **_german(),
        **dict.fromkeys(_words("molde moldes forma formas stampo stampi teglia teglie"),
                        Head("", "size", "other")),
        **dict.fromkeys(_words("bakvorm bakvormen cakevorm"), Head("", "size", "other")),
        **dict.fromkeys(_words("moule moules"), Head("", "size", "fr")),
        **dict.fromkeys(_words("plat plats"), Head("dish", "size", "fr")),
        **dict.fromkeys(_words("plaque plaques"), Head("sheet", "shape", "fr")),
        **dict.fromkeys(_words("cocotte cocottes"), Head("pot", "", "fr")),
        **dict.fromkeys(_words("poêle poêles"), Head("skillet", "oven", "fr")),
        **dict.fromkeys(_words("cercle cercles"), Head("round", "size", "fr")),
        **dict.fromkeys(_words("terrine terrines"), Head("loaf", "size", "fr")),
    }
)

_SHAPE_SIDES = {
    "loaf": "loaf loaves bread brick pullman brot kasten mie pain pains quick",
    "round": "round circular redondo redonda rotondo rund runde runden runder rundes rond ronde ronds rondes "
    "layer pizza manqué manque brioche brioches torten",
    "square": "square quadratische quadratischen quadratisch quadratischer carré carrée "
    "carrés brownie brownies",
    "rectangle": "rectangular rectangle oblong rechteckige rechteckigen rechteckig "
    "rechteckiger rectangulaire rectangulaires lasagna lasagne roasting",
    "oval": "oval ovale ovalen ovaler ovales",
    "springform": "springform spring-form charnière charnières charniere démontable "
    "removable-bottom",
    "tube": "tube angel savarin couronne ring",
    "fluted tube": "bundt kouglof kugelhopf gugelhupf fluted-tube",
    "muffin": "muffin muffins cupcake cupcakes popover financiers",
    "roll well": "bun yorkshire patty madeleines",
    "pie": "pie tart tarte tartes quiche flan tartelette tartelettes",
    "dish": "gratin casserole",
    "sheet": "sheet cookie jelly biscuit blech",
    "skillet": "skillet frying",
    "pot": "dutch",
}
SIDES: dict[str, str] = {
    word: shape for shape, words in _SHAPE_SIDES.items() for word in _words(words)
}
"""Side words and the shape each tells."""

NAMED_SIDES = frozenset(
    _words(
        "baking bake cake cakes sandwich angel food gâteau gateau four lined greased buttered oiled floured "
        "prepared ungreased unbuttered lightly well generously heavily butter sprayed "
        "nonstick non stick coated metal glass ceramic stoneware earthenware pyrex "
        "aluminum aluminium steel tinned silicone foil disposable carbon dark light "
        "heavy heavyweight medium-weight rimmed shallow deep deep-dish tall straight "
        "sided walled standard regular ordinary normal usual clean cold dry warm hot "
        "preheated heated small smaller large larger big medium mini miniature "
        "individual long narrow wide half full quarter eighth size sized lidded covered "
        "cast iron enamel enameled enamelled oven safe proof ovenproof ovensafe "
        "heatproof parchment paper food roll fluted spring form bottom bottomed loose "
        "removable ready same single double own favorite favourite 'reversible' dusted "
        "smooth plain strip joined spray sized inch style type commercial household "
        "domestic new old extra good nice baked american british "
        "gefettete gefetteten gefettet eingefettete eingefetteten gebutterte gebutterten "
        "bemehlte bemehlten bebutterte ausgelegte ausgelegten ausgebutterte große großen "
        "großer großes grosse grossen kleine kleinen kleiner kleines mittelgroße lange "
        "langen hohe hohen tiefe tiefen tiefes flache flachen normale normalen runde "
        "leicht gut vorbereitete vorbereiteten beschichtete beschichteten "
        "grand grande grands petit petite petits beau "
        "cup cups mittlere mittleren vorgeheizte vorgeheizten gusseiserner gusseisernen"
    )
)
"""Words that may stand between the measures and the noun and tell no shape."""

SIZE_WORDS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(_words("small smaller kleine kleinen petit petite"), "small"),
        **dict.fromkeys(_words("medium mittelgroße"), "medium"),
        **dict.fromkeys(_words("large larger big große großen großes grand grande"), "large"),
        **dict.fromkeys(_words("mini miniature individual"), "mini"),
        **dict.fromkeys(_words("half"), "half"),
        **dict.fromkeys(_words("full"), "full"),
        **dict.fromkeys(_words("quarter"), "quarter"),
        **dict.fromkeys(_words("eighth"), "eighth"),
        **dict.fromkeys(_words("deep"), "deep"),
    }
)

COUNTS: Mapping[str, int] = MappingProxyType(
    {
        **dict.fromkeys(
            _words("a an one the your this ein eine einen einer einem eines der die das "
                   "den dem un une le la les des du"), 1
        ),
        **dict.fromkeys(_words("two both zwei deux pair"), 2),
        **dict.fromkeys(_words("three drei trois"), 3),
        **dict.fromkeys(_words("four vier quatre"), 4),
        **dict.fromkeys(_words("five fünf cinq"), 5),
        **dict.fromkeys(_words("six sechs"), 6),
        **dict.fromkeys(_words("eight acht huit"), 8),
        **dict.fromkeys(_words("ten zehn dix"), 10),
        **dict.fromkeys(_words("twelve zwölf douze"), 12),
    }
)

ENGLISH_FORM = Head("", "size", "en")
DEFINITE = frozenset(_words("the your this der die das den dem le la les"))
COVERED = frozenset(
    _words("cover covered lid couvrir couvercle couvert couverte deckel zugedeckt")
)
LID_WORDS = frozenset(_words("lid lids lidded deckel couvercle couvercles covered cover"))
DIAMETER_WORDS = frozenset(
    _words("diameter diam dia durchmesser diamètre diametre diamètres across")
)

FILLERS = frozenset(
    _words(
        "of with about around approximately approx roughly measuring measures that which "
        "is are was i we used use using mine my ours a an the its it tight fitting "
        "sliding slide snug size sized in and or inside top dimensions at least "
        "say nominally works ideally preferably ca circa etwa ungefähr von mit à a de d "
        "du des la le un une den einer einem der größe grösse maß maße zirka durchmesser "
        "inhalt lang breit hoch avec son sa environ env dimensions taille pour pains "
        "matching standard silicone métal metall lined greased buttered floured such as "
        "nonstick removable bottom beurré beurrée beurrés fariné farinée graissé chemisé "
        "en contenance capacity en allant au acier per cm holds holding je mesurant "
        "démontables papier cuisson sulfurisé gefettet gefettete eingefettet"
    )
)
"""Words that may stand between the noun and measures written after it."""

SHAPE_RANK = (
    "springform",
    "fluted tube",
    "tube",
    "muffin",
    "roll well",
    "pie",
    "skillet",
    "basket",
    "loaf",
    "pot",
    "oval",
    "square",
    "dish",
    "rectangle",
    "sheet",
    "round",
)
"""Of several words the one that tells most."""
