"""`python -m bakelab` is the command line."""

import sys

from bakelab.cli import main

__all__: list[str] = []

if __name__ == "__main__":
    sys.exit(main())
