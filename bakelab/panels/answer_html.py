"""The answer as HTML: numbers, weights, remarks; every word is escaped."""

from collections.abc import Iterable, Sequence

from bakelab.charts import PanFill, pan_svg
from bakelab.charts.written import plain_number, xml_text
from bakelab.formula import Assumption
from bakelab.panels.wish import Answer, in_panel_words
from bakelab.pans import Pan
from bakelab.reading import Recipe
from bakelab.scaling import Fitted
from bakelab.sheets.kitchen import RAW_DOUGH_G_CM3, raw_dough_cm3
from bakelab.weighing import RISK_LIMIT_PCT, Weighed

__all__ = [
    "alert",
    "assumption_words",
    "drawing",
    "headline",
    "listed",
    "note",
    "remarks",
    "status",
    "table",
]

_HEADS = (
    ("", ""),
    ("Ingredient", ""),
    ("Recipe (g)", "bakelab-right"),
    ("Weigh (g)", "bakelab-right"),
    ("% of flour", "bakelab-right"),
    ("Rounding (%)", "bakelab-right"),
    ("Risk (%)", "bakelab-right"),
)


def alert(sentences: Sequence[str]) -> str:
    """Refusals in place; empty where there are none."""
    if not sentences:
        return ""
    items = "".join(f"<p>{xml_text(_sentence(s))}</p>" for s in sentences)
    return f'<div role="alert" class="bakelab-error">{items}</div>'


def note(text: str) -> str:
    """A quiet line under a control."""
    return f'<p class="bakelab-caption">{xml_text(text)}</p>' if text else ""


def status(text: str) -> str:
    """What was done, as a quiet line that is read aloud."""
    return f'<div role="status">{note(_sentence(text))}</div>'


def remarks(answer: Answer, recipe: Recipe | None) -> list[str]:
    """What is to be said of reading, fitting and weighing, each thing once."""
    beside_rows = [r.text for r in answer.weighed.remedies if r.text]
    weighing = [
        t for t in answer.weighed.remarks if not any(r in t for r in beside_rows)
    ]
    pans = (answer.fitted.from_pan, *answer.fitted.to_pans)
    assumed = [words for p in pans if p for words in p.assumed_notes]
    fitting = [
        t for t in answer.fitted.remarks if not any(words in t for words in assumed)
    ]
    return [*(recipe.remarks if recipe else ()), *fitting, *weighing]


def headline(answer: Answer) -> str:
    """Flour and dough, large, and one line on how they came about."""
    formula = answer.weighed.formula
    big = "".join(
        f'<div><span class="bakelab-caption">{name}</span>'
        f'<span class="bakelab-number">{_grams(mass_g)} g</span></div>'
        for name, mass_g in (("Flour", formula.flour_g), ("Dough", formula.dough_g))
    )
    facts = [
        f"{answer.fitted.factor:.3f} × the recipe",
        f"true hydration {formula.hydration_pct:.1f} %",
        f"water as written {formula.water_pct:.1f} %",
        f"salt {formula.role_pct('salt'):.2f} %",
    ]
    title = xml_text(formula.title or "Your recipe")
    shares = "".join(f"<p>{xml_text(s)}</p>" for s in _shares(answer))
    return (
        f'<p class="bakelab-title">{title}</p><div class="bakelab-big">{big}</div>'
        f"<p>{' · '.join(facts)}</p>{shares}"
    )


def table(weighed: Weighed, factor: float) -> str:
    """Weights to tick off: recipe, weigh, percentage, rounding and risk."""
    head = "".join(
        f'<th scope="col" class="{css}">{name or _UNSEEN_TICK}</th>'
        for name, css in _HEADS
    )
    return (
        '<table class="bakelab-weights"><caption class="bakelab-unseen">'
        "Fitted weights</caption>"
        f"<thead><tr>{head}</tr></thead><tbody>{''.join(_rows(weighed, factor))}"
        f"</tbody><tfoot>{_total(weighed, factor)}</tfoot></table>"
    )


def drawing(fitted: Fitted, width_px: int = 560) -> str:
    """Old and new pan to one scale with their dough; empty where none is known."""
    if not fitted.to_pans:
        return ""
    doughs: list[float | None] = [raw_dough_cm3(p.dough_g) for p in fitted.doled]
    doughs += [None] * (len(fitted.to_pans) - len(doughs))
    fills = [
        PanFill(p, dough, "My pan")
        for p, dough in zip(fitted.to_pans, doughs, strict=False)
    ]
    old = fitted.from_pan
    if old is not None:
        dough = raw_dough_cm3(fitted.original.dough_g / old.count)
        fills.insert(0, PanFill(old, dough, "The recipe's pan"))
    return pan_svg(fills, dome=fitted.dome, width_px=width_px)


def listed(texts: Iterable[str], tag: str = "ul") -> str:
    """Sentences as a list; empty where there are none."""
    items = "".join(
        f"<li>{xml_text(in_panel_words(_sentence(t)))}</li>"
        for t in dict.fromkeys(texts)
    )
    return f"<{tag}>{items}</{tag}>" if items else ""


def assumption_words(
    assumptions: Iterable[Assumption], pans: Iterable[Pan | None]
) -> list[str]:
    """Everything that was taken for granted, one sentence each."""
    found = [
        f"{a.subject}: {a.what} {a.value}" + (f" ({a.basis})" if a.basis else "")
        for a in assumptions
    ]
    found += [f"{p.shape} pan: {words}" for p in pans if p for words in p.assumed_notes]
    if any(pans):
        found.append(f"raw dough in the drawing: {RAW_DOUGH_G_CM3:g} g per cm³")
    return found


_UNSEEN_TICK = '<span class="bakelab-unseen">Tick off</span>'


def _rows(weighed: Weighed, factor: float) -> Iterable[str]:
    formula = weighed.formula
    stage = formula.stages[0] if len(formula.stages) == 1 else None
    records = weighed.frame.itertuples()
    for row, record in zip(formula.rows, records, strict=True):
        if row.stage != stage:
            stage = row.stage
            yield _stage_row(stage)
        yield _row(row.label, record, 100 * row.mass_g / formula.flour_g, factor)


def _stage_row(stage: str) -> str:
    return (
        f'<tr class="bakelab-stage"><td></td><th scope="rowgroup" colspan="6">'
        f"{xml_text(stage[:1].upper() + stage[1:])}</th></tr>"
    )


def _row(label: str, record: object, pct: float, factor: float) -> str:
    exact, weigh = getattr(record, "exact_g", 0.0), getattr(record, "weigh_g", 0.0)
    risk, step = getattr(record, "risk_pct", 0.0), getattr(record, "step_g", 1.0)
    remedy = getattr(record, "remedy", "")
    risky = risk > RISK_LIMIT_PCT
    cells = (
        f'<td aria-hidden="true" class="bakelab-tick">☐</td>{_named(label)}',
        _number(_grams(exact / factor)),
        f'<td class="bakelab-right"><b>{_on_scale(weigh, step)}</b></td>',
        _number(_percent(pct)),
        _number(_signed(getattr(record, "off_pct", 0.0))),
        _number(f"{'high ' if risky else ''}{risk:.1f}"),
    )
    line = f'<tr class="{"bakelab-risky" if risky else ""}">{"".join(cells)}</tr>'
    if not remedy:
        return line
    words = f"Weighing risk {risk:.0f} %: use {remedy}"
    return (
        f'{line}<tr class="bakelab-remedy"><td></td><td colspan="6">'
        f"{xml_text(_sentence(words))}</td></tr>"
    )


def _total(weighed: Weighed, factor: float) -> str:
    formula, exact = weighed.formula, weighed.exact.dough_g
    moved = 100 * (formula.dough_g / exact - 1)
    cells = (
        f"<td></td>{_named('Dough')}",
        _number(_grams(exact / factor)),
        f'<td class="bakelab-right"><b>{_grams(formula.dough_g)}</b></td>',
        _number(_percent(100 * formula.dough_g / formula.flour_g)),
        _number(_signed(moved)),
        "<td></td>",
    )
    return f"<tr>{''.join(cells)}</tr>"


def _shares(answer: Answer) -> list[str]:
    """Dough in each pan or piece, where there is more than one."""
    portions = answer.fitted.doled
    if sum(p.count for p in portions) < 2:
        return []
    return [
        f"{p.count} × {_grams(p.dough_g)} g of dough: {p.what}"
        if p.count > 1
        else f"{_grams(p.dough_g)} g of dough: {p.what}"
        for p in portions
    ]


def _named(label: str) -> str:
    return f'<th scope="row">{xml_text(label)}</th>'


def _number(text: str) -> str:
    return f'<td class="bakelab-right">{text}</td>'


def _signed(pct: float) -> str:
    text = f"{pct:+.1f}".replace("-", "−")
    return "0.0" if text[1:] == "0.0" else text


_LONG_G = 10_000  # from here on a space parts the digits, as everywhere


def _on_scale(mass_g: float, step_g: float) -> str:
    places = next((n for n in (0, 1, 2) if abs(step_g * 10**n % 1) < 1e-9), 2)
    near = abs(mass_g - round(mass_g, places)) < 1e-6
    if not near or abs(mass_g) >= _LONG_G:
        return plain_number(mass_g, 2)
    return f"{mass_g:.{places}f}"


def _grams(mass_g: float) -> str:
    places = 0 if mass_g >= 100 else 1 if mass_g >= 10 else 2
    return plain_number(mass_g, places)


def _percent(value: float) -> str:
    return f"{value:.1f}" if value >= 10 else f"{value:.2f}"


def _sentence(words: str) -> str:
    text = words.strip()
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."
