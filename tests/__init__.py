"""Tests of bakelab; `python -m tests` runs all that CI runs."""
