"""Preferments, soakers and scalds: out of a straight formula, and back."""

from bakelab.preferments.build import with_preferment, with_soaker
from bakelab.preferments.feeding import feeding_schedule
from bakelab.preferments.kinds import Kind, kind, kinds
from bakelab.preferments.overall import (
    overall,
    stage_sentences,
    stage_table,
    unusual_stages,
)
from bakelab.preferments.resize import prefermented_pct, with_prefermented

__all__ = [
    "Kind",
    "feeding_schedule",
    "kind",
    "kinds",
    "overall",
    "prefermented_pct",
    "stage_sentences",
    "stage_table",
    "unusual_stages",
    "with_preferment",
    "with_prefermented",
    "with_soaker",
]
