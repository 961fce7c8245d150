"""Tests of the bake book, on a file and on a real PostgreSQL server."""
