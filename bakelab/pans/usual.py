"""Which pan of the table is meant when only a shape or a size word is written."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["USUAL"]

USUAL: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("loaf", ""): "loaf_9x5",
        ("loaf", "small"): "loaf_8x4",
        ("loaf", "medium"): "loaf_8_5x4_5",
        ("loaf", "large"): "loaf_9x5",
        ("loaf", "mini"): "loaf_mini",
        ("loaf", "lidded"): "lidded_13x4",
        ("loaf", "1 lb"): "uk_1lb",
        ("loaf", "2 lb"): "uk_2lb",
        ("loaf", "3 lb"): "uk_3lb",
        ("loaf", "4 lb"): "uk_4lb_farmhouse",
        ("loaf", "1 lb US"): "loaf_8_5x4_5_2_75",
        ("loaf", "de"): "de_kasten_30",
        ("loaf", "fr"): "fr_cake_26",
        ("square", ""): "square_8",
        ("square", "small"): "square_8",
        ("square", "large"): "square_9",
        ("rectangle", ""): "rectangle_13x9",
        ("round", ""): "round_9",
        ("round", "de"): "de_springform_26",
        ("round", "fr"): "fr_manque_24",
        ("springform", ""): "springform_9_in",
        ("springform", "de"): "de_springform_26",
        ("tube", ""): "tube_10",
        ("tube", "de"): "de_kranz_26",
        ("tube", "fr"): "fr_savarin_22",
        ("fluted tube", ""): "fluted_tube_10",
        ("fluted tube", "de"): "de_gugelhupf_22",
        ("oval", ""): "oval_dish_13",
        ("sheet", ""): "sheet_half",
        ("sheet", "half"): "sheet_half",
        ("sheet", "full"): "sheet_full",
        ("sheet", "quarter"): "sheet_quarter",
        ("sheet", "eighth"): "sheet_eighth",
        ("sheet", "de"): "de_blech",
        ("sheet", "fr"): "fr_plaque",
        ("muffin", ""): "muffin_12",
        ("muffin", "mini"): "muffin_24_mini",
        ("muffin", "large"): "muffin_6_large",
        ("muffin", "de"): "de_muffin_12",
        ("roll well", ""): "roll_well_12",
        ("pie", ""): "pie_9",
        ("pie", "deep"): "pie_9_deep",
        ("pie", "de"): "de_tarte_28",
        ("pie", "fr"): "fr_tarte_28",
        ("dish", ""): "dish_3qt",
        ("dish", "large"): "dish_3qt",
        ("dish", "small"): "dish_2qt_square",
        ("dish", "de"): "de_auflauf_30x20",
        ("dish", "fr"): "fr_gratin_30",
        ("skillet", ""): "skillet_10",
        ("pot", ""): "pot_5qt",
        ("basket", ""): "basket_round_22",
        ("hearth", ""): "free_standing",
    }
)
"""The pan taken when only a shape is named: common practice, no source."""
