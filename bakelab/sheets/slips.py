"""Score slips of a tasting, four to a page, and the key on a sheet of its own.

The two never stand in one file: who pours or hands out may see the key, who tastes
may not.
"""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from bakelab.charts.written import xml_clean
from bakelab.sheets.pdf import each_text, pdf_of, plain_text
from bakelab.sheets.templates import page_of
from bakelab.tasting import Tasting

__all__ = ["key_html", "key_pdf", "slips_html", "slips_pdf"]

_HERE = Path(__file__).parent
_LONG_WORD = re.compile(r"\S{16}(?=\S)")


def slips_pdf(tasting: Tasting, *, paper: str = "a4") -> bytes:
    """The slips as a PDF, four to a page, to be cut along the dashed lines.

    Parameters
    ----------
    tasting : Tasting
    paper : {"a4", "us-letter"}

    Raises
    ------
    BakelabError
        If there is no such paper.
    """
    return _pdf("slips.typ", _slips_data(tasting), paper)


def key_pdf(tasting: Tasting, *, paper: str = "a4") -> bytes:
    """The key as a PDF: what stands under which code, and what to cut."""
    return _pdf("tasting_key.typ", _key_data(tasting), paper)


def slips_html(tasting: Tasting) -> str:
    """The slips as one self-contained page without a script, to print."""
    return xml_clean(page_of("slips.html.j2", data=_slips_data(tasting)))


def key_html(tasting: Tasting) -> str:
    """The key as one self-contained page without a script, to print."""
    return xml_clean(page_of("tasting_key.html.j2", data=_key_data(tasting)))


def _slips_data(tasting: Tasting) -> dict[str, Any]:
    """Everything on the slips, and nothing of the key."""
    return {
        "title": tasting.title,
        "task": tasting.kind.task,
        "question": tasting.question,
        "ranks": tasting.kind.ranks,
        "allergens": tasting.allergens,
        "cautions": list(tasting.cautions),
        "count": len(tasting.slips),
        "slips": [
            {
                "taster": slip.taster,
                "reference": _reference(tasting, slip.codes),
                "codes": list(tasting.choices(slip.taster)),
            }
            for slip in tasting.slips
        ],
    }


def _key_data(tasting: Tasting) -> dict[str, Any]:
    return {
        "title": tasting.title,
        "kind": f"{tasting.kind.label} ({tasting.kind.standard})",
        "question": tasting.question,
        "balance": tasting.balance,
        "seed": tasting.seed,
        "allergens": tasting.allergens,
        "portions": [{"name": n, "count": c} for n, c in tasting.portions.items()],
        "expected": ", ".join(tasting.expected),
        "reference": bool(_reference(tasting, tasting.slips[0].codes)),
        "most": max(len(slip.codes) for slip in tasting.slips),
        "rows": [
            {
                "taster": slip.taster,
                "served": [{"code": c, "name": tasting.key[c]} for c in slip.codes],
            }
            for slip in tasting.slips
        ],
    }


def _reference(tasting: Tasting, codes: tuple[str, ...]) -> str:
    return codes[0] if tasting.test == "duo-trio" else ""


def _pdf(template: str, data: Mapping[str, Any], paper: str) -> bytes:
    words = each_text(plain_text(data), _breakable)
    return pdf_of(_HERE / template, words, paper=paper, name="data")


def _breakable(text: str) -> str:
    """A text with places to break inside words that are longer than a slip."""
    return _LONG_WORD.sub("\\g<0>\u200b", text)
