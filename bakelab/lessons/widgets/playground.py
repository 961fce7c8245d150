"""What every playground shares: a few controls, a picture, one spoken sentence."""

from collections.abc import Mapping, Sequence
from typing import Any

import anywidget
import ipywidgets as widgets
import traitlets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.lessons.widgets.assets import lesson_css, script
from bakelab.panels.layout import set_html, two_columns

__all__ = ["LiveText", "Playground", "Shown", "slider", "table", "with_still"]


class LiveText(anywidget.AnyWidget):
    """A sentence that is seen at once and read aloud when the hand rests."""

    _esm = script("live.js")
    _css = lesson_css()
    text = traitlets.Unicode().tag(sync=True)
    job = traitlets.Unicode().tag(sync=True)


Shown = tuple[str, str]
"""The picture and tables as HTML of ours, and the sentence that sums them up."""


class Playground:
    """A small thing to play with: move a control, see what follows.

    A playground gives `job`, makes its `controls` and answers in `work_out`.

    Attributes
    ----------
    controls : dict of str to widget
    picture : HTML widget
    said : LiveText
        One sentence on what is seen.
    view : widget
    """

    job = ""

    def __init__(self, controls: Mapping[str, Any]) -> None:
        self.controls = dict(controls)
        self.picture = widgets.HTML()
        self.said = LiveText(job=self.job)
        left = list(self.controls.values())
        self.view = two_columns(self.job, left, [self.said, self.picture])
        self.view.add_class("bakelab-play")
        for control in left:
            control.observe(self._moved, "value")
        self._refresh()

    def work_out(self) -> Shown:
        """What the controls say, as HTML and as a sentence."""
        raise NotImplementedError

    def value(self, name: str) -> Any:
        """The value of a control."""
        return self.controls[name].value

    def _moved(self, _event: Mapping[str, Any]) -> None:
        self._refresh()

    def _refresh(self) -> None:
        try:
            shown, sentence = self.work_out()
        except BakelabError as error:
            shown, sentence = "", f"{error}"
        set_html(self.picture, shown)
        self.said.text = sentence

    def _repr_mimebundle_(self, **options: Any) -> Any:
        bundle = self.view._repr_mimebundle_(**options)
        return with_still(bundle, self._still())

    def _still(self) -> str:
        """The playground as it stands, for a page where nothing can be moved."""
        where = ", ".join(
            f"{c.description} {_written(c)}" for c in self.controls.values()
        )
        return (
            f"<p><b>{xml_text(self.job)}</b></p><p>{xml_text(where)}</p>"
            f"<p>{xml_text(self.said.text)}</p>{self.picture.value}"
        )


def slider(
    label: str, value: float, *, low: float, high: float, step: float = 1.0
) -> Any:
    """A slider with its number beside it; the number can be typed as well."""
    made = widgets.FloatSlider(
        value=value,
        min=low,
        max=high,
        step=step,
        description=label,
        readout_format=".0f" if step >= 1 else ".1f",
    )
    made.add_class("bakelab-slider")
    return made


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, caption: str) -> str:
    """Rows of words as an HTML table; the first column names the row."""
    head = "".join(
        f'<th scope="col"{"" if n == 0 else _RIGHT}>{xml_text(h)}</th>'
        for n, h in enumerate(heads)
    )
    body = "".join(
        f'<tr><th scope="row">{xml_text(first)}</th>'
        + "".join(f"<td{_RIGHT}>{xml_text(cell)}</td>" for cell in rest)
        + "</tr>"
        for first, *rest in rows
    )
    return (
        f'<table class="bakelab-weights bakelab-ratios"><caption '
        f'class="bakelab-unseen">{xml_text(caption)}</caption><thead><tr>{head}</tr>'
        f"</thead><tbody>{body}</tbody></table>"
    )


_RIGHT = ' class="bakelab-right"'


def with_still(bundle: Any, html: str) -> Any:
    """A widget's output with a still picture beside it, for a page on the web."""
    data, *more = bundle if isinstance(bundle, tuple) else (bundle,)
    whole = {**data, "text/html": html}
    return (whole, *more) if more else whole


def _written(control: Any) -> str:
    value = control.value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return str(getattr(control, "label", "") or value)
