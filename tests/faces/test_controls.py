"""Controls stay usable when page and kernel have lost step with each other."""

import pytest
from traitlets import TraitError

from bakelab.panels.controls import choice

PANS = [("none", ""), ("small tin", "small"), ("large tin", "large")]


def test_an_entry_that_is_gone_leaves_the_choice_as_it_is(
    monkeypatch: pytest.MonkeyPatch,
):
    """The page may name a place in a list that the kernel has shortened meanwhile."""
    pans = choice("Pan", PANS)
    pans.value = "small"
    pans.options = PANS[:2]
    pans.value = "small"
    sent: list[object] = []
    monkeypatch.setattr(pans, "send_state", lambda key: sent.append((key, pans.index)))
    pans.set_state({"index": 2})
    assert pans.value == "small"
    assert ("index", 1) in sent, "the page is told what is chosen"
    pans.set_state({"index": 0})
    assert pans.value == ""


def test_a_value_that_is_not_offered_is_still_refused():
    with pytest.raises(TraitError, match="Invalid selection"):
        choice("Pan", PANS).value = "bucket"
