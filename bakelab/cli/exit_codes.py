"""What a command tells the shell when it ends."""

__all__ = ["FOUND", "GOOD", "UNUSABLE"]

GOOD = 0
FOUND = 1  # findings, conflicts or remarks that somebody should look at
UNUSABLE = 2  # the input could not be used
