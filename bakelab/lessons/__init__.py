"""Exercises about ratios in bread: made fresh, marked, and kept track of."""

from bakelab.lessons.choosing import Next
from bakelab.lessons.item import LETTERS, Distractor, Family, Item
from bakelab.lessons.making import LEVELS, families, family, follow_up, make
from bakelab.lessons.marking import STATES, Marked, mark
from bakelab.lessons.misconceptions import misconception_name, misconceptions
from bakelab.lessons.progress import Progress, progress_path
from bakelab.lessons.standing import MASTERED, Answer, Standing

__all__ = [
    "LETTERS",
    "LEVELS",
    "MASTERED",
    "STATES",
    "Answer",
    "Distractor",
    "Family",
    "Item",
    "Marked",
    "Next",
    "Progress",
    "Standing",
    "families",
    "family",
    "follow_up",
    "make",
    "mark",
    "misconception_name",
    "misconceptions",
    "progress_path",
]
