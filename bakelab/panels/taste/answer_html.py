"""The tasting panel's answers as HTML; every word is escaped."""

from collections.abc import Iterable

from bakelab.charts.written import xml_text
from bakelab.panels.answer_html import listed
from bakelab.panels.taste.keeping import Kept
from bakelab.panels.taste.wish import PlanWish
from bakelab.tasting import Verdict, kind_of
from bakelab.tasting.words import percent

__all__ = ["answers_table", "plan_words", "served_words", "verdict_html"]


def plan_words(wish: PlanWish) -> str:
    """What a plan takes and finds, before its codes are drawn."""
    kind = kind_of(wish.test)
    drawn = wish.draw(seed=0)
    pieces = wish.tasters * len(drawn.slips[0].codes)
    facts = [
        ("Tasters", str(wish.tasters)),
        ("Needed for these risks", f"{wish.needed}"),
    ]
    if kind.ranks:
        facts.append(("Rank sums apart, to differ", f"{wish.apart:.1f}"))
    else:
        label = "For one sample, to show" if kind.two_sided else "Right, to show it"
        if wish.aim == "likeness":
            label = "Right at most, to show it"
        right = "none can" if wish.right is None else f"{wish.right} of {wish.tasters}"
        facts.append((label, right))
    facts.append(("Pieces to cut", str(pieces)))
    sentences = [*_plan_sentences(wish), f"On every slip: {drawn.allergens}"]
    said = "".join(f"<p>{xml_text(s)}</p>" for s in sentences)
    return f"{_big(facts)}{said}"


def served_words(kept: Kept) -> str:
    """What is served, how many slips are in, and where it is kept."""
    tasting = kept.tasting
    done, slips = len(kept.answers), len(tasting.slips)
    facts = [("Slips answered", f"{done} of {slips}")]
    cut = [f"{count} of {name}" for name, count in tasting.portions.items()]
    said = [
        f"{tasting.kind.label} ({tasting.kind.standard}). {tasting.question}",
        f"Pieces to cut: {', '.join(cut)}. {tasting.balance}",
        tasting.allergens,
        (
            "Kept in the bake book: every answer is written at once."
            if kept.is_kept
            else "Not kept: this panel has no bake book; print and note what you need."
        ),
    ]
    title = f'<p class="bakelab-title">{xml_text(tasting.title)}</p>'
    return title + _big(facts) + "".join(f"<p>{xml_text(s)}</p>" for s in said)


def answers_table(kept: Kept, *, named: bool) -> str:
    """Slips with codes, answers and remarks.

    Samples are named only where the verdict is out: until then nobody who enters
    answers need know what is what.
    """
    rows = "".join(_rows(kept, named))
    names = ["Slip", "Codes as served", "Answer", *(["It was"] * named), "Remark"]
    heads = "".join(f'<th scope="col">{name}</th>' for name in names)
    return (
        '<table><caption class="bakelab-unseen">Answers</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
    )


def verdict_html(verdict: Verdict) -> str:
    """The verdict: headline, numbers, findings, and what it does not say."""
    css = "bakelab-note"
    return (
        f'<div class="{css}" role="status"><p class="bakelab-verdict">'
        f"{xml_text(verdict.headline)}</p></div>{_big(verdict.numbers)}"
        f"{listed(verdict.findings)}<h2>What this does not say</h2>"
        f"{listed(verdict.limits)}"
    )


def _plan_sentences(wish: PlanWish) -> Iterable[str]:
    kind = kind_of(wish.test)
    if wish.aim == "likeness":
        yield from _likeness_sentences(wish)
        return
    yield f"{kind.use} ({kind.standard})"
    if kind.ranks:
        ranks = "1 rank" if wish.gap == 1 else f"{wish.gap:g} ranks"
        found = percent(1 - wish.beta)
        yield (
            f"About {wish.needed} tasters tell apart samples that lie {ranks} apart on "
            f"average in {found} of tastings; {wish.tasters} tasters do so from "
            f"{wish.found_gap:.1f} on. Both come from the normal distribution and are "
            "approximate."
        )
        return
    yield (
        f"With {wish.tasters} tasters, a difference that {percent(wish.share)} of "
        f"people taste is shown in {percent(wish.found)} of tastings. Where there is "
        f"none, guessing shows one in at most {percent(wish.alpha)}."
    )
    if wish.tasters < wish.needed:
        yield (
            f"That is fewer than the {wish.needed} that these risks need: a difference "
            "is more easily missed, and finding none says less."
        )


def _likeness_sentences(wish: PlanWish) -> Iterable[str]:
    share = percent(wish.share)
    yield (
        f"May this loaf stand in for that one? ({kind_of(wish.test).standard}, for "
        "similarity) Finding no difference would not show it; few right answers do."
    )
    yield (
        f"With {wish.tasters} tasters, likeness is shown in {percent(wish.found)} of "
        f"tastings if nobody tastes a difference, and in at most {percent(wish.beta)} "
        f"if {share} or more do."
    )
    if wish.tasters < wish.needed:
        yield (
            f"That is fewer than the {wish.needed} that these risks need: likeness is "
            "often not shown though it is there."
        )


def _rows(kept: Kept, named: bool) -> Iterable[str]:
    for slip in kept.tasting.slips:
        answer = kept.answers.get(slip.taster)
        codes = " ".join(slip.codes)
        if kept.tasting.test == "duo-trio":
            codes = f"{slip.codes[0]} (reference) {' '.join(slip.codes[1:])}"
        text, remark = (answer.text, answer.remark) if answer else ("open", "")
        css = "" if answer else ' class="bakelab-caption"'
        places = answer.places if answer else ()
        was = ", ".join(" = ".join(kept.tasting.key[c] for c in p) for p in places)
        cell = f"<td>{xml_text(was)}</td>" if named else ""
        yield (
            f'<tr><th scope="row">{slip.taster}</th><td>{codes}</td>'
            f"<td{css}>{xml_text(text)}</td>{cell}<td>{xml_text(remark)}</td></tr>"
        )


def _big(facts: Iterable[tuple[str, str]]) -> str:
    cells = "".join(
        f'<div><span class="bakelab-caption">{xml_text(name)}</span>'
        f'<span class="bakelab-number bakelab-smaller">{xml_text(value)}</span></div>'
        for name, value in facts
    )
    return f'<div class="bakelab-big">{cells}</div>'
