"""Settings of the random inputs: a busy machine is slow, and that is no failure."""

from hypothesis import settings

settings.register_profile("unhurried", settings(deadline=None))
settings.load_profile("unhurried")
