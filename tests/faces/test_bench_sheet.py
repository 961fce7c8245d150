"""The bench page of a plan of trials."""

from bs4 import BeautifulSoup

from bakelab.formula import Formula, Row
from bakelab.sheets import bench_html
from bakelab.variants import plan_trials

BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("salt_table", 10), ("yeast_instant", 5)]
)


def test_every_trial_has_its_column_and_every_ingredient_its_row() -> None:
    plan = plan_trials(BREAD, {"salt": (1.5, 2.0), "water": (62.0, 70.0)})
    page = BeautifulSoup(bench_html(plan), "html.parser")
    heads = page.select("thead th")
    assert len(heads) == 1 + len(plan.formulas)
    salt = next(r for r in page.select("tbody tr") if "salt" in r.th.text.lower())
    weighed = [float(c.text) for c in salt.find_all("td")]
    assert weighed == [round(f.role_g("salt"), 1) for f in plan.formulas]
    assert f"{plan.flour_g:.0f} g of flour" in page.text
    assert "do not taste the dough" in page.text


def test_words_of_the_user_cannot_run() -> None:
    rows = [*BREAD.rows, Row("dough", "x", "<script>x</script>", "other", 1)]
    plan = plan_trials(BREAD.with_rows(rows), {"salt": (1.5, 2.0)})
    html = bench_html(plan, title="<b>plan</b>")
    assert "<script>" not in html
    assert "<b>plan" not in html
