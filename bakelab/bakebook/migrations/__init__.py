"""How the tables of an older bake book become those of today; they only grow."""

__all__ = ["HEAD"]

HEAD = "0002"  # the newest revision in `versions/`; a test compares the two
