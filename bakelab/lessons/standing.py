"""How a student stands in each family: ability, mastery, and the next review."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING, Any

from bakelab.lessons.making import LEVELS, families

if TYPE_CHECKING:
    from fsrs import Card, Scheduler

__all__ = ["MASTERED", "Answer", "Standing", "standings"]

# Our own settings, no source: what a level adds in difficulty (log odds), where a
# student starts, how far one answer moves the ability, and what counts as mastered.
_DIFFICULTY = {1: -1.0, 2: 0.0, 3: 1.0}
_START = 0.0
_FIRST_MOVES, _LATER_MOVES = 1.6, 0.8
_SETTLED_AFTER = 4
MASTERED = 0.8
_LEAST_RIGHT = 3
_AIM = 0.7
_CREDIT = {"right": 1.0, "rounding": 0.7, "unit": 0.5}
_HINT_COSTS = 0.25


@dataclass(frozen=True)
class Answer:
    """One answer as it is kept: what was asked, how it was marked, hints used."""

    at: datetime
    family: str
    seed: int
    level: int
    state: str
    misconception: str
    hints: int


@dataclass(frozen=True)
class Standing:
    """How a student stands in one family.

    `mastery` is the chance, 0 to 1, of getting an exercise of level 2 right;
    `level` the level where about 7 in 10 answers would be right; `due` when a
    review is due, None before the first answer.
    """

    family: str
    tries: int
    right: int
    mastery: float
    level: int
    due: datetime | None
    last: datetime | None

    @property
    def is_mastered(self) -> bool:
        """Sure enough, and right at least three times."""
        return self.mastery >= MASTERED and self.right >= _LEAST_RIGHT


@dataclass
class _Running:
    ability: float = _START
    tries: int = 0
    right: int = 0
    card: Card | None = None
    seen: set[tuple[int, int]] = field(default_factory=set)


def standings(answers: Iterable[Answer]) -> dict[str, Standing]:
    """Standings from all answers; a family that is no longer known is passed over."""
    running = {one.key: _Running() for one in families()}
    for answer in sorted(answers, key=lambda a: a.at):
        if answer.family in running:
            _take(running[answer.family], answer)
    return {key: _standing(key, state) for key, state in running.items()}


def _take(state: _Running, answer: Answer) -> None:
    """Only the first answer to an exercise counts."""
    if (answer.seed, answer.level) in state.seen:
        return
    state.seen.add((answer.seed, answer.level))
    credit = _CREDIT.get(answer.state, 0.0) - _HINT_COSTS * min(answer.hints, 3)
    expected = _chance(state.ability, answer.level)
    step = _FIRST_MOVES if state.tries < _SETTLED_AFTER else _LATER_MOVES
    state.ability += step * (max(credit, 0.0) - expected)
    state.ability = min(max(state.ability, -4.0), 4.0)
    state.tries += 1
    state.right += answer.state == "right"
    state.card = _reviewed(state.card, answer)


def _reviewed(card: Card | None, answer: Answer) -> Card:
    from fsrs import Card, Rating

    rating = Rating.Again
    if answer.state == "right":
        rating = Rating.Hard if answer.hints else Rating.Good
    elif answer.state in ("rounding", "unit"):
        rating = Rating.Hard
    card = card or Card(card_id=1, due=answer.at)
    return _scheduler().review_card(card, rating, review_datetime=answer.at)[0]


def _standing(key: str, state: _Running) -> Standing:
    card: Any = state.card
    return Standing(
        key, state.tries, state.right, _chance(state.ability, 2), _level(state.ability),
        card.due if card else None, card.last_review if card else None,
    )  # fmt: skip


def _level(ability: float) -> int:
    """The level where the chance comes nearest to 7 in 10."""
    return min(LEVELS, key=lambda level: abs(_chance(ability, level) - _AIM))


def _chance(ability: float, level: int) -> float:
    return 1 / (1 + math.exp(_DIFFICULTY[level] - ability))


@cache
def _scheduler() -> Scheduler:
    """Reviews in whole days, the same for the same answers."""
    from fsrs import Scheduler

    return Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
