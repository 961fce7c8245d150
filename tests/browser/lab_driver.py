"""Starts JupyterLab on a copy of the notebooks, and drives a page of it."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

__all__ = [
    "ALL_RUN",
    "CHROMIUM_OPTIONS",
    "KERNEL_IDLE",
    "NOTEBOOKS",
    "Lab",
    "environment",
    "find_chromium",
    "free_port",
    "notebook_names",
    "open_notebook",
    "panel_page",
    "watched",
]

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
CHROMIUM = ("chromium", "chromium-browser", "google-chrome", "chrome")
CHROMIUM_OPTIONS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--no-first-run",
    "--disable-component-update",
    "--disable-sync",
)
NO_NEWS = (
    '{"disabledExtensions": {"@jupyterlab/apputils-extension:announcements": true}}'
)
START_S = 60
PAGE_MS = 60_000
PANEL_SHOWN = ".bakelab-panel .bakelab-number"


def find_chromium() -> str | None:
    """A Chromium on this machine, or None."""
    return next(filter(None, map(shutil.which, CHROMIUM)), None)


class Lab:
    """A running JupyterLab on a folder of its own."""

    def __init__(self, folder: Path, *, python: str = sys.executable) -> None:
        self.folder = folder / "lab"
        shutil.copytree(NOTEBOOKS, self.folder)
        self.url = f"http://127.0.0.1:{free_port()}"
        self.log = folder / "lab.log"
        self.book = folder / "bakebook.sqlite"
        with self.log.open("w") as log:
            self._process = subprocess.Popen(
                self._command(python), env=environment(folder), stdout=log, stderr=log
            )
        self._wait()

    def stop(self) -> None:
        """End the server that was started here."""
        self._process.terminate()
        try:
            self._process.wait(20)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(20)

    def _command(self, python: str) -> list[str]:
        port = self.url.rpartition(":")[2]
        # Without a token: in tests only; what users start keeps its token.
        return [
            python, "-m", "jupyterlab", "--no-browser", "--allow-root",
            "--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}",
            "--ServerApp.port_retries=0", "--IdentityProvider.token=",
            "--ServerApp.password=", "--LabApp.expose_app_in_browser=True",
            f"--ServerApp.root_dir={self.folder}",
        ]  # fmt: skip

    def _wait(self) -> None:
        until = time.monotonic() + START_S
        while time.monotonic() < until:
            if self._process.poll() is not None:
                break
            try:
                with urllib.request.urlopen(f"{self.url}/api", timeout=2):
                    return
            except OSError:
                time.sleep(0.2)
        self.stop()
        raise RuntimeError(f"JupyterLab did not start: {self.log.read_text()[-2000:]}")


def open_notebook(page: Any, lab: Lab, name: str, *, shows: str = PANEL_SHOWN) -> None:
    """Open a notebook, run all its cells, and wait until it shows its panel."""
    page.goto(f"{lab.url}/lab/tree/{name}?reset")
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=PAGE_MS)
    page.wait_for_function(KERNEL_IDLE, timeout=PAGE_MS)
    page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
    page.wait_for_function(ALL_RUN, timeout=PAGE_MS)
    page.evaluate(TO_FIRST_CELL)
    page.wait_for_selector(shows, timeout=PAGE_MS)


def watched(browser: Any, **options: Any) -> tuple[Any, Any, list[str]]:
    """A page that reaches 127.0.0.1 only, and the list of what it asked beyond."""
    context = browser.new_context(**options)
    outside: list[str] = []

    def guard(route: Any) -> None:
        url = route.request.url
        if url.startswith(("http://127.0.0.1:", "data:", "blob:")):
            route.continue_()
        else:
            outside.append(url)
            route.abort()

    context.route("**/*", guard)
    return context, context.new_page(), outside


@contextmanager
def panel_page(
    browser: Any,
    lab: Lab,
    name: str,
    *,
    shows: str = PANEL_SHOWN,
    width: int = 1280,
    height: int = 1400,
) -> Iterator[Any]:
    """A page with a notebook whose cells have run.

    When it closes, nothing may have been asked beyond 127.0.0.1 and no error
    of the page may have gone uncaught.
    """
    context, page, outside = watched(
        browser, viewport={"width": width, "height": height}
    )
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    open_notebook(page, lab, name, shows=shows)
    page.set_default_timeout(20_000)
    yield page
    context.close()
    assert outside == [], outside
    assert errors == [], errors


KERNEL_IDLE = """() => {
  const panel = window.jupyterapp?.shell.currentWidget;
  return panel?.sessionContext?.session?.kernel?.status === 'idle';
}"""
# JupyterLab hides cells far from the one at hand; panels stand in the first ones.
TO_FIRST_CELL = """() => {
  const notebook = window.jupyterapp.shell.currentWidget.content;
  notebook.activeCellIndex = 0;
  return notebook.scrollToItem(0, 'start');
}"""
ALL_RUN = """() => {
  const panel = window.jupyterapp.shell.currentWidget;
  const cells = panel.content.widgets.filter(c => c.model.type === 'code');
  return panel.sessionContext.session.kernel.status === 'idle'
    && cells.every(c => c.model.executionCount !== null
      && c.model.executionState !== 'running');
}"""


def notebook_names() -> list[str]:
    """Every notebook of the lab, as its path inside `notebooks/`."""
    found = (path.relative_to(NOTEBOOKS) for path in NOTEBOOKS.rglob("*.ipynb"))
    return sorted(
        p.as_posix() for p in found if not any(x.startswith(".") for x in p.parts)
    )


def environment(folder: Path) -> dict[str, str]:
    """Settings, kitchen and bake book in a folder of their own."""
    settings = folder / "settings"
    (settings / "labconfig").mkdir(parents=True)
    (settings / "labconfig" / "page_config.json").write_text(NO_NEWS)
    own = {
        "JUPYTER_CONFIG_DIR": str(settings),
        "BAKELAB_BOOK": str(folder / "bakebook.sqlite"),
        "BAKELAB_KITCHEN": str(folder / "kitchen.json"),
        "BAKELAB_PROGRESS": str(folder / "progress.jsonl"),
        "PYTHONPATH": str(NOTEBOOKS.parent),
    }
    return {**os.environ, **own}


def free_port() -> int:
    """A port of 127.0.0.1 that nobody uses."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
