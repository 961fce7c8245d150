"""Opening the lab, and making a lab folder of the user's own."""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from threading import Thread

from bakelab.errors import ReadError

__all__ = [
    "FIRST_NOTEBOOK",
    "jupyter_environment",
    "lab_folder",
    "new_lab",
    "notebooks_path",
    "open_lab",
]

FIRST_NOTEBOOK = "1-fit-a-recipe-to-my-pan.ipynb"
_OWN_FOLDER = "bakelab-lab"
_NO_NEWS = Path(__file__).with_name("jupyter_config")


def notebooks_path() -> Path:
    """The notebooks of a checkout, or those inside an installed wheel."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package.parent / "notebooks", package / "notebooks"):
        if (folder / FIRST_NOTEBOOK).is_file():
            return folder
    raise ReadError("the notebooks are missing; reinstall bakelab to bring them back")


def new_lab(folder: str | Path) -> tuple[int, int]:
    """Copy notebooks and sample recipes to a folder, never over a file.

    A bake book with nothing in it is made beside them.

    Returns
    -------
    tuple of int
        Files made, and files that were there already.

    Raises
    ------
    ReadError
        If the folder cannot be written to.
    """
    source, target = notebooks_path(), Path(folder).expanduser()
    made = kept = 0
    try:
        for path in sorted(p for p in source.rglob("*") if p.is_file()):
            if any(part.startswith(".") for part in path.relative_to(source).parts):
                continue
            new = target / path.relative_to(source)
            if new.exists():
                kept += 1
                continue
            new.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, new)
            made += 1
    except OSError as error:
        raise ReadError(
            f"cannot write to {target}: {error.strerror}; choose a folder of your own"
        ) from None
    new_book = _make_book(target / "bakebook.sqlite")
    return made + new_book, kept + (not new_book)


def lab_folder() -> Path:
    """The notebooks to open: a checkout's own, or a copy where the command is run."""
    folder = notebooks_path()
    if folder.parent == Path(__file__).resolve().parent.parent:
        folder = Path.cwd() / _OWN_FOLDER
        made, _ = new_lab(folder)
        print(f"Your lab is in {folder} ({made} new files).")
    return folder


def open_lab(*, browser: bool = True, port: int | None = None) -> int:
    """Start JupyterLab on the first notebook; nothing asks the network.

    In a checkout the notebooks are opened in place; from an installed
    wheel a folder `bakelab-lab` is made where the command is run.
    """
    folder = lab_folder()
    command = [sys.executable, "-m", "jupyterlab", str(folder / FIRST_NOTEBOOK)]
    command += ["--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"]
    command += [] if browser else ["--no-browser"]
    command += [] if port is None else [f"--ServerApp.port={port}"]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--allow-root")
    environment = jupyter_environment("JUPYTER_CONFIG_PATH", _NO_NEWS)
    Thread(target=_prepare, args=(folder,), daemon=True).start()
    try:
        return subprocess.call(command, cwd=folder, env=environment)
    except KeyboardInterrupt:
        return 0


def jupyter_environment(variable: str, ours: Path) -> dict[str, str]:
    """The environment for a server of notebooks.

    With a folder of ours first in `variable`, one of Jupyter's search paths, and
    with the whole address of the book: notebooks run in folders of their own.
    """
    joined = os.pathsep.join(filter(None, (str(ours), os.environ.get(variable))))
    return {**os.environ, **_whole_address(), variable: joined}


def _prepare(folder: Path) -> None:
    """What the first panel would have to wait for, while JupyterLab starts."""
    from bakelab.panels.bench.books import demo_book_in_time

    demo_book_in_time(folder)


def _make_book(path: Path) -> bool:
    """Whether there was no bake book yet."""
    if path.exists():
        return False
    from bakelab.bakebook import BakeBook

    BakeBook(path).close()
    return True


def _whole_address() -> dict[str, str]:
    address = os.environ.get("BAKELAB_BOOK", "")
    if not address.strip() or "://" in address:
        return {}
    return {"BAKELAB_BOOK": str(Path(address).expanduser().absolute())}
