"""The lab's notebooks as pages without code, through voila (an extra)."""

import importlib.util
import subprocess
import sys
from pathlib import Path

from bakelab.cli.lab import jupyter_environment, lab_folder
from bakelab.errors import ReadError

__all__ = ["app_command", "app_environment", "open_app"]

_DATA = Path(__file__).with_name("jupyter_data")


def open_app(*, browser: bool = True, port: int | None = None) -> int:
    """Serve every notebook as a page without code, on this machine only.

    Raises
    ------
    ReadError
        If voila is not installed.
    """
    if importlib.util.find_spec("voila") is None:
        raise ReadError(
            "pages without code need voila; install it with: pip install 'bakelab[app]'"
        )
    command = app_command(lab_folder(), browser=browser, port=port)
    try:
        return subprocess.call(command, env=app_environment())
    except KeyboardInterrupt:
        return 0


def app_command(folder: Path, *, browser: bool, port: int | None) -> list[str]:
    """The command that serves a folder of notebooks, on 127.0.0.1."""
    command = [sys.executable, "-m", "voila", str(folder)]
    command += ["--Voila.ip=127.0.0.1", "--template=bakelab"]
    command += [] if browser else ["--no-browser"]
    return command + ([] if port is None else [f"--port={port}"])


def app_environment() -> dict[str, str]:
    """The environment with our page template, which fetches nothing."""
    return jupyter_environment("JUPYTER_PATH", _DATA)
