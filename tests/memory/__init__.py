"""Tests, by the layer they look at."""
