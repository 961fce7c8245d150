"""Undo and redo over values that never change."""

from typing import Generic, TypeVar

__all__ = ["History"]

T = TypeVar("T")
_MOST = 500  # steps that are kept


class History(Generic[T]):
    """Steps of one thing; going back and adding drops what lay ahead.

    Examples
    --------
    >>> steps = History("a")
    >>> steps.add("b")
    >>> steps.undo(), steps.redo(), steps.can_redo
    ('a', 'b', False)
    """

    def __init__(self, first: T) -> None:
        self._steps = [first]
        self._at = 0

    @property
    def now(self) -> T:
        """The value as it stands."""
        return self._steps[self._at]

    @property
    def can_undo(self) -> bool:
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        return self._at < len(self._steps) - 1

    def add(self, value: T) -> None:
        """A new step after the present one."""
        self._steps = [*self._steps[: self._at + 1], value][-_MOST:]
        self._at = len(self._steps) - 1

    def undo(self) -> T:
        """One step back; the first value where there is none."""
        self._at = max(0, self._at - 1)
        return self.now

    def redo(self) -> T:
        """One step forward; the last value where there is none."""
        self._at = min(len(self._steps) - 1, self._at + 1)
        return self.now
