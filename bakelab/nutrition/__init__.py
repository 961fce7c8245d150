"""Energy and salt of a serving, from composition, beside published targets."""

from bakelab.nutrition.serving import (
    NOT_A_LABEL,
    USUAL_LOSS_PCT,
    Nutrition,
    nutrition,
)
from bakelab.nutrition.targets import (
    SODIUM_TO_SALT,
    SaltTarget,
    salt_target,
    salt_targets,
)

__all__ = [
    "NOT_A_LABEL",
    "SODIUM_TO_SALT",
    "USUAL_LOSS_PCT",
    "Nutrition",
    "SaltTarget",
    "nutrition",
    "salt_target",
    "salt_targets",
]
