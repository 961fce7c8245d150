"""No serious finding of axe-core in any panel or printed page, in either theme.

axe-core holds the W3C's Web Content Accessibility Guidelines as rules; impacts
"serious" and "critical" fail here. Only our own part of the page is looked at.
"""

from pathlib import Path
from typing import Any

import pytest

from bakelab import fit, pan, read_recipe, round_to_scale
from bakelab.checking import check, to_html
from bakelab.sheets import kitchen_sheet, sheet_html

from .lab_driver import Lab, notebook_names, open_notebook, watched

pytestmark = pytest.mark.browser

SERIOUS = ("serious", "critical")
SET_THEME = """theme =>
  window.jupyterapp.commands.execute('apputils:change-theme', {theme})"""
LOAF = """Quay loaf

- 3 cups bread flour
- 300 ml water
- 2 tsp salt
- 1 tsp instant yeast

Bake in a 9 x 5 x 2.75 in loaf pan at 425 F for 35 minutes.
"""


def serious_findings(page: Any, within: str | None = None) -> list[str]:
    """What axe-core calls serious or critical, a line each."""
    from axe_playwright_python.sync_playwright import Axe

    answer = Axe().run(page, context=within)
    return [
        f"{found['id']} ({found['impact']}): {node['html'][:160]}"
        for found in answer.response["violations"]
        if found["impact"] in SERIOUS
        for node in found["nodes"]
    ]


@pytest.mark.parametrize("name", notebook_names())
def test_panels_have_no_serious_finding(lab: Lab, chromium: Any, name: str) -> None:
    context, page, _ = watched(chromium, viewport={"width": 1280, "height": 1600})
    open_notebook(page, lab, name, shows=".jp-OutputArea-output")
    found = {}
    for theme in ("Light", "Dark"):
        page.evaluate(SET_THEME, f"JupyterLab {theme}")
        page.wait_for_timeout(1500)
        found[theme] = serious_findings(page, ".jp-OutputArea-output")
    context.close()
    assert found == {"Light": [], "Dark": []}


@pytest.fixture(params=["sheet", "report"])
def printed_page(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A page we write for people, as the address of a file."""
    text = _sheet() if request.param == "sheet" else to_html([check(LOAF)])
    path = tmp_path / f"{request.param}.html"
    path.write_text(text, encoding="utf-8")
    return path.as_uri()


def test_pages_to_print_have_no_serious_finding(
    chromium: Any, printed_page: str
) -> None:
    page = chromium.new_page()
    page.goto(printed_page)
    found = serious_findings(page)
    page.close()
    assert found == []


def _sheet() -> str:
    recipe = read_recipe(LOAF)
    assert recipe.formula is not None
    fitted = fit(recipe.formula, to=pan("loaf 8.5 x 4.5 x 2.5 in"))
    return sheet_html(kitchen_sheet(fitted, round_to_scale(fitted.formula)))
