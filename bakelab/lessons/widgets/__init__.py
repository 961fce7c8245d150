"""Exercises and playgrounds on the page of a lesson."""

from bakelab.lessons.widgets.amounts_play import (
    FlourPlayground,
    HydrationPlayground,
    RatioPlayground,
)
from bakelab.lessons.widgets.guess import Guess
from bakelab.lessons.widgets.item_box import ItemBox
from bakelab.lessons.widgets.judging_play import JudgingPlayground
from bakelab.lessons.widgets.pans_play import PanPlayground, ScalingPlayground
from bakelab.lessons.widgets.playground import Playground
from bakelab.lessons.widgets.practice import Practice

__all__ = [
    "FlourPlayground",
    "Guess",
    "HydrationPlayground",
    "ItemBox",
    "JudgingPlayground",
    "PanPlayground",
    "Playground",
    "Practice",
    "RatioPlayground",
    "ScalingPlayground",
]
