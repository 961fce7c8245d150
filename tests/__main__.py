"""Everything that CI runs, in one command: `python -m tests`.

Each step prints its name and its time; all are run, and the exit code is 1
if any of them failed.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
STEPS: tuple[tuple[str, list[str]], ...] = (
    ("lint", [PYTHON, "-m", "ruff", "check", "."]),
    ("format", [PYTHON, "-m", "ruff", "format", "--check", "."]),
    ("types", [PYTHON, "-m", "mypy", "--strict", "bakelab"]),
    ("layers", [str(Path(PYTHON).with_name("lint-imports"))]),
    ("doctests", [PYTHON, "-m", "pytest", "-q", "--doctest-modules", "bakelab"]),
    ("notebooks", [PYTHON, "-m", "pytest", "-q", "--nbval", "notebooks"]),
    (
        "tests",
        [
            PYTHON, "-m", "pytest", "-q", "tests", "--benchmark-disable-gc",
            "--cov", "--cov-report=term:skip-covered", "--cov-fail-under=90",
        ],
    ),
)  # fmt: skip


def main() -> int:
    """Run every step; 0 if all passed."""
    failed = [name for name, command in STEPS if not _passes(name, command)]
    print(f"failed: {', '.join(failed)}" if failed else "all steps passed")
    return int(bool(failed))


def _passes(name: str, command: list[str]) -> bool:
    print(f"== {name}", flush=True)
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:  # nobody's own bake book is opened
        book = str(Path(folder) / "bakebook.sqlite")
        environment = {**os.environ, "PYTHONWARNINGS": "", "BAKELAB_BOOK": book}
        done = subprocess.run(command, cwd=ROOT, env=environment, check=False)
    code = done.returncode
    print(f"== {name}: {'passed' if code == 0 else 'FAILED'}", end=" ")
    print(f"in {time.perf_counter() - start:.0f} s", flush=True)
    return code == 0


if __name__ == "__main__":
    sys.exit(main())
