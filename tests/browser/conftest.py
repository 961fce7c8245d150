"""JupyterLab on a copy of the notebooks, and a headless Chromium beside it.

Any request to another host than 127.0.0.1 is blocked and fails the test.
"""

import os
from collections.abc import Iterator
from typing import Any

import pytest

from .lab_driver import CHROMIUM_OPTIONS, Lab, find_chromium


@pytest.fixture(scope="session")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """JupyterLab for the whole session."""
    running = Lab(tmp_path_factory.mktemp("lab"))
    yield running
    running.stop()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A headless browser; skipped without one, but not where CI is set."""
    path = find_chromium()
    if path is None:
        if os.environ.get("CI", "").lower() in ("true", "1"):
            pytest.fail("CI needs a browser: install Debian's chromium")
        pytest.skip("no Chromium on this machine; install it to run browser tests")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=path, args=list(CHROMIUM_OPTIONS)
        )
        yield browser
        browser.close()
