"""Crumbs that styles of bread are known for, and why they come out so."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["CRUMBS", "DENSE", "FINE", "OPEN", "RICH", "TIGHT", "WHOLE", "WHY"]

OPEN = "large, uneven holes; moist and chewy"
FINE = "small, even pores; soft and springy"
RICH = "very tender, almost like cake"
TIGHT = "tight and chewy, hardly any holes"
DENSE = "dense, moist and close, with a sour or malty taste"
WHOLE = "closer and heavier than white bread, with a nutty taste"

CRUMBS: Mapping[str, str] = {
    "ciabatta": OPEN,
    "focaccia": OPEN,
    "country_sourdough": OPEN,
    "white_pan": FINE,
    "sandwich_lidded": FINE,
    "dinner_rolls": FINE,
    "burger_buns": FINE,
    "milk_bread": FINE,
    "brioche": RICH,
    "sweet_dough": RICH,
    "festive_tall": RICH,
    "bagel": TIGHT,
    "pretzel": TIGHT,
    "rye_dark": DENSE,
    "rye_whole": DENSE,
    "whole_wheat_pan": WHOLE,
    "whole_wheat_hearth": WHOLE,
}
"""The crumb that a style is known for; common practice, no source."""

WHY: Mapping[str, str] = {
    OPEN: "much water and hardly any fat: the dough is slack and its gas makes large "
    "holes",
    FINE: "a middling amount of water, with some fat and sugar: they keep the pores "
    "small and the crumb soft",
    RICH: "so much fat and egg that the dough cannot stretch into large holes and "
    "stays tender",
    TIGHT: "very little water: the dough is stiff and holds its gas in tiny pores",
    DENSE: "mostly rye, which holds water but builds no stretchy net for gas",
    WHOLE: "mostly whole-grain flour: bran drinks water and cuts the net that holds "
    "gas",
}
"""Why a crumb comes out so; common practice, no source."""
