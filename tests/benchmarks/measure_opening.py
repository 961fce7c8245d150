"""How long each notebook takes from a click to its first working panel, on demand.

Run ``python -m tests.benchmarks.measure_opening`` on a quiet machine; with
``--python``, notebooks run where bakelab was installed as users do. JupyterLab is
open already, and the demo book is made, as `bakelab` does while it starts JupyterLab.
The time is from opening the notebook to a kernel (a floor that is Jupyter's), from
running its first cell of code to a control that is seen, and until the answer stands.
"""

import argparse
import sys
import tempfile
import time
from contextlib import closing
from itertools import pairwise
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from bakelab.bakebook.demo import write_demo_book
from bakelab.panels.bench.books import DEMO_NAME
from tests.browser.lab_driver import (
    ALL_RUN,
    CHROMIUM_OPTIONS,
    Lab,
    find_chromium,
    notebook_names,
    watched,
)

__all__ = ["main", "measure"]

PAGE_MS = 60_000
CONTROL = (
    ".bakelab-panel button:visible, .bakelab-panel input:visible, "
    ".bakelab-panel select:visible, .bakelab-item :is(button, input):visible"
)
OPEN = "path => { window.jupyterapp.commands.execute('docmanager:open', { path }); }"
READY = """path => {
  const open = window.jupyterapp.shell.currentWidget;
  return open?.context?.path === path && open.content.widgets.length > 1
    && open.sessionContext?.session?.kernel?.status === 'idle';
}"""
RUN_FIRST = """() => {
  const notebook = window.jupyterapp.shell.currentWidget.content;
  notebook.activeCellIndex = notebook.widgets.findIndex(c => c.model.type === 'code');
  notebook.deselectAll();
  window.jupyterapp.commands.execute('notebook:run-cell');
}"""
ANSWERED = """() => {
  const open = window.jupyterapp.shell.currentWidget;
  const first = open.content.widgets.find(c => c.model.type === 'code');
  return first.model.executionCount !== null
    && open.sessionContext.session.kernel.status === 'idle';
}"""
RUN_ALL = "window.jupyterapp.commands.execute('notebook:run-all-cells')"


def measure(browser: Any, lab: Lab, name: str) -> list[float]:
    """Seconds to a kernel, to a panel, to its answer, and for all cells after it."""
    context, page, _ = watched(browser, viewport={"width": 1280, "height": 1400})
    page.set_default_timeout(PAGE_MS)
    page.goto(f"{lab.url}/lab?reset")
    page.wait_for_selector(".jp-DirListing-item")
    page.wait_for_timeout(3000)
    times = [time.perf_counter()]
    page.evaluate(OPEN, name)
    page.wait_for_function(READY, arg=name, timeout=PAGE_MS)
    times.append(time.perf_counter())
    page.evaluate(RUN_FIRST)
    page.locator(CONTROL).first.wait_for()
    times.append(time.perf_counter())
    page.wait_for_function(ANSWERED, timeout=PAGE_MS)
    times.append(time.perf_counter())
    page.evaluate(RUN_ALL)
    page.wait_for_function(ALL_RUN, timeout=PAGE_MS)
    times.append(time.perf_counter())
    context.close()
    return [later - sooner for sooner, later in pairwise(times)]


def main() -> None:
    """Print a line a notebook."""
    asked = argparse.ArgumentParser(description="Seconds until a notebook works.")
    asked.add_argument("--python", default=sys.executable, help="what runs the lab")
    python = asked.parse_args().python
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        lab = Lab(Path(folder), python=python)
        with closing(write_demo_book(lab.book.with_name(DEMO_NAME))) as book:
            book.bakes(newest=1)
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), args=list(CHROMIUM_OPTIONS)
        )
        for name in notebook_names():
            kernel, panel, answer, rest = measure(browser, lab, name)
            seen = kernel + panel
            print(
                f"{name:40} kernel {kernel:4.1f} s, panel {panel:4.1f} s: "
                f"seen after {seen:4.1f} s, answered after {seen + answer:4.1f} s; "
                f"all cells {rest:4.1f} s",
                flush=True,
            )
        browser.close()
        lab.stop()


if __name__ == "__main__":
    main()
