"""Published quantities that agree with each other: what cannot be true, and why."""

from bakelab.checking.accepted import (
    ACCEPTED_FILE,
    Accepted,
    accept,
    accepted_beside,
)
from bakelab.checking.at_home import AtHome, Spread, at_home
from bakelab.checking.check import check, check_file, check_piece
from bakelab.checking.corrected import Change, Corrected, Left, corrected_copy
from bakelab.checking.many import check_many
from bakelab.checking.model import KINDS, Finding, Quote, Report, frame_of
from bakelab.checking.outputs import to_json, to_junit, to_sarif
from bakelab.checking.page import marked_text, to_html
from bakelab.checking.results import (
    FileResult,
    read_results,
    results_frame,
    to_parquet,
)
from bakelab.checking.rules import RULES, Rule
from bakelab.checking.source import Piece, files_of, pieces_of

__all__ = [
    "ACCEPTED_FILE",
    "KINDS",
    "RULES",
    "Accepted",
    "AtHome",
    "Change",
    "Corrected",
    "FileResult",
    "Finding",
    "Left",
    "Piece",
    "Quote",
    "Report",
    "Rule",
    "Spread",
    "accept",
    "accepted_beside",
    "at_home",
    "check",
    "check_file",
    "check_many",
    "check_piece",
    "corrected_copy",
    "files_of",
    "frame_of",
    "marked_text",
    "pieces_of",
    "read_results",
    "results_frame",
    "to_html",
    "to_json",
    "to_junit",
    "to_parquet",
    "to_sarif",
]
