"""The command line: `bakelab`, `bakelab new`, `bakelab read`, `bakelab fit`."""

from bakelab.cli.main import main

__all__ = ["main"]
