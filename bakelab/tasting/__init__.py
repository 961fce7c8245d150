"""Tasting: planned, served blind, judged exactly, with verdicts that stay modest."""

from bakelab.tasting.answers import (
    Answer,
    answers_from_data,
    read_answer,
    read_answers,
)
from bakelab.tasting.difference import (
    Difference,
    evaluate,
    needed_correct,
    power,
    tasters_needed,
)
from bakelab.tasting.gaps import found_gap, gap_tasters, least_gap
from bakelab.tasting.judge import Verdict, judge
from bakelab.tasting.kinds import (
    MOST_RANKED,
    MOST_TASTERS,
    TESTS,
    TestKind,
    kind_of,
)
from bakelab.tasting.likeness import (
    AIMS,
    Likeness,
    evaluate_likeness,
    likeness_power,
    likeness_tasters,
    most_correct,
)
from bakelab.tasting.planning import plan_tasting
from bakelab.tasting.ranking import Pair, Ranking, Trend, rank_samples
from bakelab.tasting.safety import allergen_line, tasting_cautions
from bakelab.tasting.serving import Serving, serving_orders, serving_plan
from bakelab.tasting.session import Tasting

__all__ = [
    "AIMS",
    "MOST_RANKED",
    "MOST_TASTERS",
    "TESTS",
    "Answer",
    "Difference",
    "Likeness",
    "Pair",
    "Ranking",
    "Serving",
    "Tasting",
    "TestKind",
    "Trend",
    "Verdict",
    "allergen_line",
    "answers_from_data",
    "evaluate",
    "evaluate_likeness",
    "found_gap",
    "gap_tasters",
    "judge",
    "kind_of",
    "least_gap",
    "likeness_power",
    "likeness_tasters",
    "most_correct",
    "needed_correct",
    "plan_tasting",
    "power",
    "rank_samples",
    "read_answer",
    "read_answers",
    "serving_orders",
    "serving_plan",
    "tasters_needed",
    "tasting_cautions",
]
