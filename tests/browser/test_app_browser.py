"""Each notebook as an app without code: voila shows the panel and no cell, offline."""

import shutil
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from bakelab.cli.app import app_command, app_environment

from .lab_driver import NOTEBOOKS, environment, free_port, notebook_names, watched

pytestmark = pytest.mark.browser
START_S = 60


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of voila, serving a copy of the notebooks."""
    folder = tmp_path_factory.mktemp("app")
    shutil.copytree(NOTEBOOKS, folder / "lab")
    own, port = environment(folder), free_port()
    url = f"http://127.0.0.1:{port}"
    with (folder / "app.log").open("w") as log:
        process = subprocess.Popen(
            app_command(folder / "lab", browser=False, port=port),
            env={**app_environment(), **own},
            stdout=log,
            stderr=log,
        )
    try:
        _wait(url, process, folder / "app.log")
        yield url
    finally:
        process.terminate()
        process.wait(20)


@pytest.mark.parametrize("name", notebook_names())
def test_a_notebook_is_an_app(app: str, chromium: Any, name: str) -> None:
    context, page, outside = watched(chromium, viewport={"width": 1280, "height": 1400})
    page.goto(f"{app}/voila/render/{name}", timeout=60_000)
    page.wait_for_selector(".jp-OutputArea-output", timeout=60_000)
    page.wait_for_selector(".bakelab-panel, .bakelab-check", timeout=60_000)
    code = page.locator(".jp-CodeCell .jp-InputArea:visible")
    errors = page.locator(".jp-OutputArea-error, .jp-RenderedText[data-mime-type*=err]")
    counted = code.count(), errors.count()
    context.close()
    assert counted == (0, 0)
    assert outside == []


def _wait(url: str, process: "subprocess.Popen[bytes]", log: Path) -> None:
    until = time.monotonic() + START_S
    while time.monotonic() < until and process.poll() is None:
        try:
            with urllib.request.urlopen(url, timeout=2):
                return
        except OSError:
            time.sleep(0.2)
    pytest.fail(f"voila did not start: {log.read_text()[-2000:]}")
