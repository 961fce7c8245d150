"""The list against the method: what is listed and never used, and the reverse."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding, Quote

__all__ = ["find_unlisted", "find_unused"]

_ALL = re.compile(
    r"(?i)\b(all (?:of )?(?:the )?(?:other |remaining |dry |wet |dough )*ingredients?|"
    r"(?:remaining|other|dry|wet|liquid|dough|all|these|the) ingredients?|everything|"
    r"(?:all|the) (?:the )?rest|the remaining|alle (?:übrigen |restlichen )?zutaten|"
    r"(?:übrigen|restlichen) zutaten|zutaten|tous les (?:autres )?ingrédients|"
    r"(?:les|autres) ingrédients|combine ingredients|mix ingredients|"
    r"ingredients)\b"
)
_ROLE_WORDS = {
    "flour": r"flours?|mehle?|farines?|semolina|meal|dough|knead",
    "water": r"water|wasser|eau|liquids?",
    "liquid": r"liquids?|flüssigkeit|liquides?",
    "yeast": r"yeast\w*|hefe\w*|levure\w*|proof",
    "starter": r"starter|levain|leaven|sourdough|sponge|poolish|biga|sauerteig|"
    r"anstellgut|vorteig",
    "salt": r"salt\w*|salz\w*|sels?",
    "sweetener": r"sugars?|honey|syrup|molasses|sweet\w*|zucker\w*|honig|sucre|miel",
    "fat": r"butter\w*|oils?|oiled|fat|shortening|lard|margarine|öl|fett|schmalz|"
    r"beurre\w*|huile\w*|grease\w*|brush\w*",
    "egg": r"eggs?|yolks?|whites?|eier|ei|eigelb\w*|eiweiß\w*|œufs?|oeufs?|jaunes?|"
    r"blancs?|wash",
    "dairy": r"milk|cream|butter\s?milk|yogh?urt|cheese|dairy|milch|sahne|quark|lait|"
    r"crème|kefir|liquids?|wet",
    "leavening": r"baking|soda|powder|backpulver|natron|levure|bicarbonate",
}
_SHORT = 120  # characters; a shorter method does not tell all its steps; our own
_HEAVY = ("flour", "water", "yeast", "starter")
_HELD = re.compile(
    r"(?i)\b(?:reserv(?:e|ing)|hold(?:ing)? back|set(?:ting)? aside|"
    r"keep(?:ing)? back)\s+"
    r"((?:about |the )?[\d½⅓⅔¼¾⅛][^.;,]{0,40}?\b(flour|water|milk|sugar|oil|butter))\b"
    r"(?!\s+for\b)[^.;]{0,80}"
)
_LATER = (
    r"(?i)\b(reserved|held[- ]back|set[- ]aside|remaining|rest of|leftover|last of)\b"
)


def find_unused(case: Case) -> Iterator[Finding]:
    """Findings `not-in-the-method` and `held-back`.

    Looked for only where the method tells its steps (120 characters or
    more), names two thirds of the list, and does not sum up what is listed
    ("mix all ingredients"). Any word of the line counts as use, and so does a
    word for its kind, such as "liquid" or "dough".
    """
    method = case.method
    if len(method) >= _SHORT and not _ALL.search(method):
        folded = method.casefold()
        checked = [e for e in case.dough if _is_checked(e)]
        unused = [e for e in checked if not _named(e, folded)]
        if 3 * len(unused) <= len(checked):
            yield from (_unused(e) for e in unused)
    yield from _held(case)


def _is_checked(entry: Entry) -> bool:
    line = entry.line
    return (
        line.mass_g is not None
        and line.role not in ("", "other", "inclusion")
        and not line.optional
        and line.stage == "dough"
    )


def _named(entry: Entry, method: str) -> bool:
    words = re.findall(r"[^\W\d_]{4,}", entry.line.label.casefold())
    if any(re.search(rf"\b{re.escape(w.rstrip('s'))}", method) for w in words):
        return True
    of_role = _ROLE_WORDS.get(entry.line.role)
    return of_role is None or re.search(rf"\b(?:{of_role})\b", method) is not None


def _unused(entry: Entry) -> Finding:
    heavy = entry.line.role in _HEAVY
    return Finding(
        "not-in-the-method",
        "missing",
        f"{entry.name}: in the list, and the method never uses it",
        (entry.quote,),
        (),
        f"Name the step that takes the {entry.name}, or strike the line.",
        "medium" if heavy else "low",
        "words of the method; collective words such as 'all ingredients' count as use",
    )


def _held(case: Case) -> Iterator[Finding]:
    for quote in case.prose:
        for match in _HELD.finditer(quote.text[:2000]):
            place = case.story.find(match[0])
            rest = case.story[place + len(match[0]) :] if place >= 0 else ""
            if not rest or re.search(_LATER, rest):
                continue
            if re.search(rf"(?i)\b(?:the|this|that)\s+{match[2]}\b", rest):
                continue
            yield Finding(
                "held-back",
                "missing",
                f"{match[1].strip()} is held back, and nothing says where it goes",
                (Quote(quote.line_no, quote.text),),
                (),
                f"Say when the reserved {match[2]} is added, or do not hold it back.",
                "medium",
                "words of the method after this step",
            )


def find_unlisted(case: Case) -> Iterator[Finding]:
    """Findings `only-in-the-method`: the reader found it only in the steps."""
    for line in case.recipe.lines:
        if line.line_no != 0 or line.role not in ("water", "flour", "salt", "yeast"):
            continue
        amount = "" if line.mass_g is None else f", about {line.mass_g:.4g} g"
        yield Finding(
            "only-in-the-method",
            "missing",
            f"{line.role} is used in the method{amount}, and the list does not have it",
            (case.quote(line.text),),
            (),
            f"Put the {line.role} on the list with its weight.",
            "medium" if line.role in ("water", "flour") else "low",
            "words of the method",
        )
