"""Random corrections, formulas and words: all of it comes back, old values too."""

import math
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bakelab.bakebook import FACTS, BakeBook, Fact
from bakelab.formula import Assumption, Formula, Row

_SETTINGS = settings(
    max_examples=25, deadline=None, suppress_health_check=list(HealthCheck)
)
# Every character that Unicode assigns to text: no NUL, no half of a pair.
WORDS = st.text(
    st.characters(exclude_characters="\0", exclude_categories=("Cs",)), max_size=30
)
GRAMS = st.floats(0, 1e6, allow_nan=False)


def value_of(fact: Fact) -> st.SearchStrategy[Any]:
    """What a fact may be, nothing included."""
    if fact.kind == "number":
        return st.none() | st.floats(fact.low, fact.high)
    if fact.kind == "choice":
        return st.none() | st.sampled_from(fact.choices)
    if fact.kind == "yes/no":
        return st.none() | st.booleans()
    return st.none() | WORDS.filter(str.strip)


WRITABLE = [fact for fact in FACTS if fact.name != "pan"]
CHANGES = st.dictionaries(st.sampled_from(WRITABLE), st.none(), max_size=6).flatmap(
    lambda chosen: st.fixed_dictionaries({f.name: value_of(f) for f in chosen})
)
ROWS = st.builds(
    Row,
    stage=st.sampled_from(["dough", "sponge"]),
    ingredient=st.sampled_from(["wheat_bread", "water", "salt_table"]) | WORDS,
    label=WORDS,
    role=st.sampled_from(["flour", "water", "salt", "other"]),
    mass_g=GRAMS,
    hydration_pct=st.none() | st.floats(0, 1000),
)
FORMULAS = st.builds(
    Formula,
    rows=st.lists(ROWS, max_size=5).map(tuple),
    title=WORDS,
    style=WORDS,
    notes=WORDS,
    bake_minutes=st.none() | st.tuples(GRAMS, GRAMS),
    assumptions=st.lists(
        st.builds(Assumption, WORDS, WORDS, WORDS, WORDS), max_size=2
    ).map(tuple),
)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BakeBook]:
    """One book in a file for all examples."""
    with BakeBook(tmp_path_factory.mktemp("shelf") / "book.sqlite") as opened:
        yield opened


@_SETTINGS
@given(st.lists(CHANGES, max_size=6))
def test_the_history_leads_back_to_every_version(
    shelf: BakeBook, changes: list[dict[str, Any]]
) -> None:
    bake_id = shelf.start(Formula.from_pairs([("wheat_bread", 500)]))
    versions: dict[int, dict[str, Any]] = {1: {}}
    for change in changes:
        before = versions[max(versions)]
        after = {k: v for k, v in {**before, **change}.items() if v is not None}
        version = shelf.write(bake_id, version=max(versions), **change)
        assert (version == max(versions)) == (after == before)
        versions[version] = after
    facts = dict(shelf.bake(bake_id).facts)
    past = shelf.past(bake_id)
    for version in sorted(versions, reverse=True):
        assert facts == versions[version]
        for row in past[past["version"] == version].to_dict("records"):
            assert facts.pop(row["field"], None) == row["new"]
            if row["old"] is not None:
                facts[row["field"]] = row["old"]


@_SETTINGS
@given(FORMULAS)
def test_any_formula_comes_back_exactly(shelf: BakeBook, formula: Formula) -> None:
    key = shelf.keep(formula)
    kept = shelf.formula(key)
    assert kept == formula
    assert shelf.keep(kept) == key
    row = shelf.formulas().set_index("key").loc[key]
    assert row["dough_g"] == math.fsum(r.mass_g for r in formula.rows)


@_SETTINGS
@given(WORDS.filter(lambda text: bool(text.strip())))
def test_any_note_comes_back_and_is_found(shelf: BakeBook, text: str) -> None:
    bake_id = shelf.start(Formula.from_pairs([("wheat_bread", 500)]))
    shelf.note(bake_id, text)
    assert shelf.bake(bake_id).notes[0].text == text
    assert bake_id in list(shelf.bakes(text=text)["id"])
