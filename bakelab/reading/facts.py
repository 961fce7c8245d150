"""Oven temperature, baking time and yield from the text of a recipe."""

import re
from collections.abc import Iterable, Sequence

from bakelab.reading.durations import DIGIT, THEN, clauses, duration, may_last

__all__ = [
    "bake_minutes",
    "bake_part",
    "oven_c",
    "says_bake",
    "settings",
    "stated_yield",
]

_TEMPERATURE = re.compile(
    r"(?P<low>\d{2,3})\s*(?:°|º|degrees?|deg\.?)?\s*(?:[CF]\b)?\s*"
    r"(?:(?:-|–|—|to|bis|à)\s*(?P<high>\d{2,3})\s*)?"
    r"(?:(?:°|º|degrees?\b|deg\.?\b|grad\b|degrés?\b)\s*(?P<unit>celsius|fahrenheit|"
    r"[CF]\b)?"
    r"|(?P<bare>℃|℉|C\b|F\b|celsius\b|fahrenheit\b))",
    re.IGNORECASE,
)
_GAS = re.compile(r"(?i)\bgas\s*(?:mark)?\s*(\d{1,2}(?:/\d)?|½|¼)")
_THERMOSTAT = re.compile(r"(?i)\b(?:thermostat|th\.?)\s*(\d{1,2})\b")
_OVEN = re.compile(
    r"(?i)\b(oven|bake[sd]?|baking|preheat\w*|pre-heat\w*|heat|roast|cook|backofen|"
    r"ofen|"
    r"back\w*|vorheiz\w*|ober-?/?\s*unterhitze|\w*backen|four|cuire|cuisson|"
    r"préchauff\w*|"
    r"enfourn\w*|horno|hornear|forno|infornare|cuocere|oven|bakken|ugn\w*|grädda\w*)\b"
)
_CORE = re.compile(
    r"(?i)(internal|core|inside|centre|center|reads?|registers?|thermometer|probe|"
    r"kerntemperatur|à cœur|au cœur|interne|water|wasser|eau|milk|milch|lait|"
    r"dough temp|"
    r"lukewarm|warm)"
)
_FAN = re.compile(r"(?i)^\W*(fan|umluft|heißluft|chaleur tournante|convection)|"
                  r"\b(fan|umluft|heißluft|convection)\W*$")  # fmt: skip
_BAKE = re.compile(
    r"(?i)\b(bake[sd]?|baking(?! (?:powder|soda|sheet|pan|tray|dish|paper|parchment|"
    r"tin))|oven|\w*backen|gebacken|backe|abbacken|"
    r"ausbacken|ofen|backzeit|cuire|cuisson|enfourn\w*|four|hornea\w*|infornare|"
    r"cuocere|"
    r"cottura|bak|bakken|grädda|stek)\b"
)
_COOK = re.compile(
    r"(?i)\b(cook(?:ed|ing)?)\b(?!.*\b(?:pan|skillet|stove|simmer|boil))"
)
_IN_ALL = re.compile(
    r"(?i)\b(in total|in all|all told|altogether|total of|for a total|insgesamt|"
    r"gesamt|au total|en tout)\b"
)
_TAKES = re.compile(r"(?i)\b(takes?|dauert|prend|about|around|check\w*|should)\b")
_PASSED = re.compile(
    r"(?i)\b(?:after|nach|après)\s+(?:the\s+first\s+|(?:den\s+)?ersten\s+)?"
    r"\d{1,3}\s*(?:min\w*|mn\b)"
)
_NOT_BAKE = re.compile(
    r"(?i)\b(cool\w*|rest(?:s|ed|ing)?|rise[sn]?|rising|proof\w*|prove[sd]?|proving|"
    r"knead\w*|"
    r"preheat\w*|pre-heat\w*|soak\w*|chill\w*|refrigerat\w*|ferment\w*|stand|mix\w*|"
    r"before baking|before the end|simmer|boil\w*|melt\w*|turn(?:ing)? off|rotate|"
    r"abkühl\w*|auskühl\w*|ruhen|gehen|kneten|vorheiz\w*|quellen|refroidir|reposer|"
    r"lever|"
    r"pétrir|préchauff\w*|tiédir|pousser|steam for|ruhe)\b"
)
# Gas mark 1 is 140 C and each mark is 10-14 C more; common practice, no source.
_GAS_C = {"½": 130.0, "1/2": 130.0, "¼": 110.0, "1/4": 110.0, "1": 140.0, "2": 150.0,
          "3": 170.0, "4": 180.0, "5": 190.0, "6": 200.0, "7": 220.0, "8": 230.0,
          "9": 240.0, "10": 260.0}  # fmt: skip


def oven_c(texts: Iterable[str]) -> float | None:
    """The oven's first setting in °C, or None.

    A conventional setting is taken before one for a fan oven. The inside
    of a loaf, water and proofing are not oven settings.
    """
    fan: float | None = None
    for clause in clauses(texts):
        if not _OVEN.search(clause) and not _GAS.search(clause):
            continue
        for value, is_fan in settings(clause):
            if not is_fan:
                return round(value, 1)
            fan = round(value, 1) if fan is None else fan
    return fan if fan is not None else _plain_setting(texts)


def _plain_setting(texts: Iterable[str]) -> float | None:
    """A lone hot temperature such as `180 °C` on a line of facts."""
    for clause in clauses(texts):
        for value, is_fan in settings(clause):
            if not is_fan and not _CORE.search(clause):
                return round(value, 1)
    return None


def settings(clause: str) -> list[tuple[float, bool]]:
    """Oven settings of a clause: °C, and whether for a fan oven."""
    if not DIGIT.search(clause):
        return []
    found: list[tuple[float, bool]] = []
    celsius: list[tuple[float, bool]] = []
    for match in _TEMPERATURE.finditer(clause):
        unit = (match["unit"] or match["bare"] or "").casefold()
        low = float(match["low"])
        is_f = unit.startswith(("f", "℉")) or (not unit and low >= 290)
        value = (low - 32) / 1.8 if is_f else low
        before = clause[max(0, match.start() - 40) : match.start()]
        after = clause[match.end() : match.end() + 20]
        hot = 110 <= value <= 350
        if not hot or _CORE.search(before.rsplit(",", 1)[-1]):
            continue
        is_fan = bool(_FAN.search(after[:18]) or _FAN.search(before[-14:]))
        (found if is_f else celsius).append((value, is_fan))
    if celsius and found and abs(celsius[0][0] - found[0][0]) < 16:
        return celsius
    gas = [(_GAS_C[m[1]], False) for m in _GAS.finditer(clause) if m[1] in _GAS_C]
    dials = [(30.0 * int(m[1]), False) for m in _THERMOSTAT.finditer(clause)]
    return found + celsius or gas or dials


def bake_minutes(
    method: Sequence[str], facts: Sequence[tuple[str, str]]
) -> tuple[float, float] | None:
    """Minutes in the oven, low to high; two phases are added; None if not said."""
    found = _said_minutes(method, _BAKE)
    if found is not None:
        return found
    for kind, text in facts:
        if kind == "bake":
            return duration(text) or _bare_minutes(text)
    return _said_minutes(method, _COOK)


def _said_minutes(
    method: Sequence[str], verbs: re.Pattern[str]
) -> tuple[float, float] | None:
    for clause in clauses(method):
        whole = _IN_ALL.search(clause) if may_last(clause) else None
        if whole is not None and (verbs.search(clause) or _is_hot(clause)):
            near = clause[max(0, whole.start() - 26) : whole.start()]
            part = duration(clause[whole.start() :]) or duration(near)
            if part is not None:
                return part
    low = high = passed = 0.0
    baking = waiting = False
    for clause in clauses(method):
        after_bake = baking and bool(THEN.search(clause))
        says_bake = bool(verbs.search(clause)) or _is_hot(clause)
        says_bake = says_bake or (waiting and bool(_TAKES.search(clause)))
        part = duration(bake_part(_still_to_come(clause, baking=baking)))
        if part is None and says_bake and not baking:
            passed = max(passed, _passed(clause))
        waiting = part is None and says_bake
        if part is None or not (says_bake or after_bake):
            continue
        if baking and not THEN.search(clause):
            continue
        low, high = low + passed + part[0], high + passed + part[1]
        baking, passed = True, 0.0
    return (low, high) if baking else None


def _still_to_come(clause: str, *, baking: bool) -> str:
    """`after 10 minutes reduce …` alone tells no time to add to a bake."""
    rest = _PASSED.sub(" ", clause)
    turned = THEN.search(clause) and duration(bake_part(rest)) is None
    return rest if baking or turned else clause


def _passed(clause: str) -> float:
    """Minutes gone by when a clause turns the oven, without more of the bake."""
    told = _PASSED.search(clause)
    span = None if told is None else duration(told.group())
    return 0.0 if span is None else span[0]


def says_bake(clause: str) -> bool:
    """Whether a clause tells of the bake itself."""
    return bool(_BAKE.search(clause)) or _is_hot(clause)


def _is_hot(clause: str) -> bool:
    return any(value >= 150 for value, _ in settings(clause))


def _bare_minutes(text: str) -> tuple[float, float] | None:
    match = re.fullmatch(r"PT(?:(\d+)H)?(?:(\d+)M)?", text.strip())
    if match is None or not (match[1] or match[2]):
        return None
    minutes = 60.0 * int(match[1] or 0) + int(match[2] or 0)
    return minutes, minutes


def bake_part(clause: str) -> str:
    """The clause without its parts on cooling, resting and preheating."""
    parts = re.split(r",\s+|\band\b(?! a half)|\bund\b|\bet\b|\(|\)", clause)
    kept = [p for p in parts if not _NOT_BAKE.search(p)]
    return ", ".join(kept)


_YIELD = re.compile(
    r"(?i)\b(?:makes|yields?|ergibt|gives|rinde|pour)\s+(?:about |approximately |"
    r"ca\.? )?"
    r"((?:\d++|one|two|three|four|six|eight|twelve|ein|eine|zwei|drei|un|une|deux)"
    r"(?!\s*(?:(?:-|–|à|to|bis)\s*\d+\s*)?(?:min|mn\b|h\b|hour|heure|stunde|std|sec))"
    r"[^.\n;]{0,60})"
)


def stated_yield(texts: Iterable[str], facts: Sequence[tuple[str, str]]) -> str:
    """What the recipe says that it makes, in its own words; empty if nothing."""
    for kind, text in facts:
        if kind == "yield":
            return text[:120]
    for text in texts:
        match = _YIELD.search(text[:20_000])
        if match:
            return match.group(1).strip()
    return ""
