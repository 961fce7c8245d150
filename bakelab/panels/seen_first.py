"""A panel that is seen before its first answer is worked out."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from bakelab.panels.answer_html import note
from bakelab.panels.layout import set_html
from bakelab.panels.svg import get_ready

__all__ = ["SeenFirst"]

_WORKING = note("Working out the first answer …")
_STOPPED = note("The first answer was not finished; run the cell again.")


class SeenFirst:
    """A panel whose controls stand in the notebook while it does its first work.

    Whoever asks a panel for anything else, a control or the answer, gets it with
    the first answer worked out; only how soon it is seen differs.
    """

    view: Any
    _held: dict[str, Any]
    _first: Callable[[], None]
    _told: Any

    def _see_first(self, first: Callable[[], None], told: Any) -> None:
        """Put off `first`, the work that fills the panel: the last step of making it.

        `told` is the widget that says so where the answer will be. Until it is
        done, public parts are held apart, so that asking for one of them comes to
        `__getattr__`.
        """
        parts = vars(self)
        self._held = {name: parts[name] for name in parts if not name.startswith("_")}
        for name in self._held:
            del parts[name]
        self._first, self._told = first, told
        set_html(told, _WORKING)

    def _do_first(self) -> None:
        held = vars(self).pop("_held", None)
        if held is not None:
            vars(self).update({**held, **vars(self)})
            try:
                get_ready()
                self._first()
            finally:  # an interrupt of the kernel, or a fault
                if self._told.value == _WORKING:
                    set_html(self._told, _STOPPED)

    def __dir__(self) -> list[str]:
        return sorted({*super().__dir__(), *vars(self).get("_held", ())})

    if not TYPE_CHECKING:

        def __getattr__(self, name: str) -> Any:
            if name not in vars(self).get("_held", ()):
                kind = type(self).__name__
                raise AttributeError(f"{kind!r} object has no attribute {name!r}")
            self._do_first()
            return getattr(self, name)

    def _ipython_display_(self) -> None:
        """Show the controls, then work out the answer that stands beside them."""
        from IPython.display import display

        view = vars(self).get("_held", vars(self))["view"]
        display(view)  # type: ignore[no-untyped-call]
        self._do_first()
