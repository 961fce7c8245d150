"""Preferments, soakers and scalds: out of a straight formula, and back."""

from bakelab.preferments.build import with_preferment, with_soaker
from bakelab.preferments.feeding import feeding_schedule
from bakelab.preferments.kinds import Kind, kind, kinds
from bakelab.preferments.overall import overall, stage_table

__all__ = [
    "Kind",
    "feeding_schedule",
    "kind",
    "kinds",
    "overall",
    "stage_table",
    "with_preferment",
    "with_soaker",
]
