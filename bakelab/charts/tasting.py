"""Charts of a tasting: what guessing gives, what a plan finds, ranks side by side."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pandas as pd

from bakelab.tasting import (
    Likeness,
    Ranking,
    likeness_power,
    needed_correct,
    power,
)
from bakelab.tasting.difference import tails
from bakelab.tasting.kinds import kind_of
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = [
    "few_chart",
    "guess_chart",
    "likeness_chart",
    "power_chart",
    "rank_chart",
]

_WIDTH, _HEIGHT = 440, 170
_NAMES = 70  # px less for names at the left
_STEPS = 40
_RANK_SUM = "Rank sum (lowest: first place)"


def power_chart(test: str, tasters: int, *, alpha: float, share: float) -> "alt.Chart":
    """How likely a test of so many tasters shows a difference, by who tastes it.

    A dot stands at the share that the plan looks for. Axes in percent.
    """

    def found(truly: float) -> float:
        return power(test, tasters, share=truly, alpha=alpha)

    return _curve(found, share, label_px=14)


def likeness_chart(
    test: str, tasters: int, *, share: float, beta: float
) -> "alt.Chart":
    """How likely a test of so many tasters shows likeness, by who tastes it.

    A dot stands at the share that may not taste it. Axes in percent.
    """

    def found(truly: float) -> float:
        return likeness_power(test, tasters, share=share, truly=truly, beta=beta)

    return _curve(found, share, label_px=-10)


def guess_chart(
    test: str, tasters: int, *, alpha: float, correct: int | None = None
) -> "alt.Chart":
    """How often each count of right answers comes up if everybody guesses.

    Counts that show a difference are striped bars; the count that was found is
    marked with a line and its number.
    """
    kind = kind_of(test)
    needed = needed_correct(test, tasters, alpha=alpha)
    least = tasters + 1 if needed is None else needed
    shows = [
        k >= least or (kind.two_sided and tasters - k >= least)
        for k in range(tasters + 1)
    ]
    title = "Right answers if all guess"
    if kind.two_sided:
        title = "Answers for the first sample if nobody leans"
    meanings = ("can be guessing", "shows a difference")
    return _counts(kind.chance, shows, meanings, title, correct)


def few_chart(found: Likeness) -> "alt.Chart":
    """How often each count comes up if just as many taste it as may not.

    Counts that show likeness are striped bars; the one that was found is marked.
    """
    chance = kind_of(found.test).chance
    right = found.share + (1 - found.share) * chance
    most = -1 if found.most is None else found.most
    shows = [count <= most for count in range(found.tasters + 1)]
    title = f"Right answers if {100 * found.share:g} % taste it"
    meanings = ("leaves too much room", "shows likeness")
    return _counts(right, shows, meanings, title, found.correct)


def rank_chart(found: Ranking, names: Sequence[str]) -> "alt.Chart":
    """Rank sums in order, each with the reach of the least significant difference.

    Two samples differ where neither dot lies within half the other's bar: that is,
    where the bars do not overlap.
    """
    import altair as alt

    half = found.least_difference / 2
    frame = pd.DataFrame({"sample": list(names), "rank_sum": list(found.rank_sums)})
    frame = frame.assign(
        low=frame["rank_sum"] - half,
        high=frame["rank_sum"] + half,
        words=[f"{value:g}" for value in frame["rank_sum"]],
    ).sort_values("rank_sum")
    # Few and apart: a label at the very end would touch the one beside it.
    few = alt.Axis(title=_RANK_SUM, tickCount=6, labelOverlap=True, labelSeparation=10)
    across = alt.X("rank_sum:Q").axis(few).scale(zero=False)
    down = alt.Y("sample:N").sort(list(frame["sample"])).title(None)
    down = down.axis(labelLimit=150)
    base = alt.Chart(frame)
    bar = base.mark_rule(strokeWidth=7, color=PALETTE["steam"])
    dot = base.mark_point(size=60, filled=True, opacity=1, color="currentColor")
    label = base.mark_text(dy=-11).encode(across, down, text="words:N")
    reach = bar.encode(alt.X("low:Q").axis(few), down)
    layers = alt.layer(reach.encode(x2="high:Q"), dot.encode(across, down), label)
    title = alt.Title("Rank sums", subtitle="bars that do not overlap: the two differ")
    sized = layers.properties(title=title)
    return _finished(sized, _WIDTH - _NAMES, 38 * len(frame))


def _curve(
    found: Callable[[float], float], share: float, *, label_px: int
) -> "alt.Chart":
    import altair as alt

    shares = sorted({step / _STEPS for step in range(_STEPS + 1)} | {share})
    chances = [100 * found(truly) for truly in shares]
    frame = pd.DataFrame({"share_pct": [100 * s for s in shares], "found_pct": chances})
    here = frame[frame["share_pct"] == 100 * share]
    words = here.assign(words=[f"{value:.0f} %" for value in here["found_pct"]])
    across = alt.X("share_pct:Q").title("People who taste the difference (%)")
    up = alt.Y("found_pct:Q").title("Chance that it is shown (%)")
    up = up.scale(domain=[0, 100])
    line = alt.Chart(frame).mark_line(color=PALETTE["water"]).encode(across, up)
    dot = alt.Chart(here).mark_point(size=90, filled=True, color=PALETTE["crust"])
    label = alt.Chart(words).mark_text(align="left", dx=10, dy=label_px)
    layers = alt.layer(
        line, dot.encode(across, up), label.encode(across, up, text="words:N")
    )
    return _finished(layers, _WIDTH, _HEIGHT)


def _counts(
    chance: float,
    shows: Sequence[bool],
    meanings: tuple[str, str],
    title: str,
    correct: int | None,
) -> "alt.Chart":
    """Bars of a binomial, those that show something in another colour and stroke."""
    import altair as alt

    frame = _binomial(chance, [meanings[shown] for shown in shows], correct)
    across = alt.X("right:O").title(title).axis(labelAngle=0, labelOverlap=True)
    most = float(frame["chance_pct"].max())
    up = alt.Y("chance_pct:Q").title("Of tastings (%)").scale(domain=[0, 1.25 * most])
    colour = alt.Color("meaning:N").title(None).legend(columnPadding=24)
    colours = [PALETTE["steam"], PALETTE["crust"]]
    colour = colour.scale(domain=list(meanings), range=colours)
    bars = alt.Chart(frame).mark_bar(stroke="currentColor", strokeWidth=0.8)
    dash = alt.StrokeDash("meaning:N").legend(None)
    dash = dash.scale(domain=list(meanings), range=[[1, 0], [3, 2]])
    layers: list[Any] = [bars.encode(across, up, colour, dash)]
    if correct is not None:
        seen = frame[frame["right"] == correct]
        seen = seen.assign(words=f"{correct} found", top=1.13 * most)
        line = alt.Chart(seen).mark_rule(strokeWidth=2)
        words = alt.Chart(seen).mark_text(fontWeight="bold", dy=-9)
        high = alt.Y("top:Q")
        layers.append(line.encode(across, high, y2="chance_pct:Q"))
        layers.append(words.encode(across, high, text="words:N"))
    return _finished(alt.layer(*layers), _WIDTH, _HEIGHT)


def _binomial(
    chance: float, meanings: Sequence[str], correct: int | None
) -> pd.DataFrame:
    tasters = len(meanings) - 1
    chances = [100 * (more - most) for more, most in pairwise(tails(tasters, chance))]
    frame = pd.DataFrame(
        {"right": range(tasters + 1), "chance_pct": chances, "meaning": meanings}
    )
    return frame if tasters <= _STEPS else _middle(frame, correct)


def _middle(frame: pd.DataFrame, correct: int | None) -> pd.DataFrame:
    """Of many counts, those that can be seen, and up to the one that was found."""
    seen = list(frame.index[frame["chance_pct"] > 0.01])
    counts = [*seen, *([] if correct is None else [correct])]
    return frame.loc[max(0, min(counts) - 2) : max(counts) + 2]


def _finished(chart: Any, width_px: int, height_px: int) -> "alt.Chart":
    sized = chart.properties(width=width_px, height=height_px)
    done: alt.Chart = sized.configure(**altair_config())
    return done
