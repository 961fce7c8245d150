"""Reports for machines: JSON, SARIF 2.1.0 for code hosts, JUnit XML for CI."""

import json
from collections.abc import Mapping, Sequence
from typing import Any
from xml.etree import ElementTree as ET

from bakelab.checking.model import KINDS, Finding, Report
from bakelab.checking.rules import RULES

__all__ = ["to_json", "to_junit", "to_sarif"]

_LEVELS = {"conflict": "error", "unlikely": "warning", "missing": "warning",
           "note": "note"}  # fmt: skip
_SCHEMA = (  # of the standard itself, OASIS SARIF 2.1.0 with errata 01
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/"
    "sarif-schema-2.1.0.json"
)


def to_json(
    reports: Sequence[Report], *, unread: Mapping[str, str] | None = None
) -> str:
    """The documented JSON of `bakelab check --json`.

    ``{"recipes": [{"name", "title", "first_line", "counts", "findings": [...]}],
    "counts", "unread": {file: why}}``; a finding has the fields of `Finding`.
    """
    counts = {k: sum(len(r.by_kind(k)) for r in reports) for k in KINDS}
    data = {
        "recipes": [r.to_dict() for r in reports],
        "counts": counts,
        "unread": dict(unread or {}),
    }
    return json.dumps(data, ensure_ascii=False, indent=1)


def to_sarif(reports: Sequence[Report], *, version: str = "0") -> str:
    """The findings as SARIF, which code hosts show beside the lines.

    References
    ----------
    OASIS, Static Analysis Results Interchange Format (SARIF) version 2.1.0.
    """
    used = dict.fromkeys(f.identifier for r in reports for f in r.findings)
    names = list(used)
    run = {
        "tool": {"driver": {"name": "bakelab", "version": version,
                            "rules": [_rule(n) for n in names]}},
        "results": [_result(r, f, names) for r in reports for f in r.findings],
    }  # fmt: skip
    data = {"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(data, ensure_ascii=False, indent=1)


def _rule(name: str) -> dict[str, Any]:
    rule = RULES[name]
    return {
        "id": name,
        "shortDescription": {"text": rule.says},
        "help": {"text": f"Allowed for: {rule.allows}."},
    }


def _result(report: Report, found: Finding, names: Sequence[str]) -> dict[str, Any]:
    steps = "; ".join(found.working)
    text = f"{found.message}. {steps}. {found.mend}" if steps else (
        f"{found.message}. {found.mend}"
    )  # fmt: skip
    result: dict[str, Any] = {
        "ruleId": found.identifier,
        "ruleIndex": names.index(found.identifier),
        "level": _LEVELS[found.kind],
        "message": {"text": text},
        "locations": [_location(report, q.line_no, q.text) for q in found.quotes]
        or [_location(report, 0, "")],
        "properties": {"kind": found.kind, "confidence": found.confidence,
                       "basis": found.basis},
    }  # fmt: skip
    if found.accepted:
        result["suppressions"] = [{"kind": "external", "justification": found.accepted}]
    return result


def _location(report: Report, line_no: int, text: str) -> dict[str, Any]:
    from pathlib import PurePath

    name = report.name.split("#")[0] or "text"
    region: dict[str, Any] = {"startLine": max(1, line_no or report.first_line)}
    if text:
        region["snippet"] = {"text": text}
    return {
        "physicalLocation": {
            "artifactLocation": {"uri": PurePath(name).as_posix()},
            "region": region,
        }
    }


def to_junit(reports: Sequence[Report]) -> str:
    """The findings as JUnit XML: a recipe is a case, a conflict its failure.

    What is only unlikely, missing or a note goes into the case's output.
    """
    failures = sum(bool(r.by_kind("conflict")) for r in reports)
    suite = ET.Element("testsuite", name="bakelab check", tests=str(len(reports)),
                       failures=str(failures), errors="0")  # fmt: skip
    for report in reports:
        case = ET.SubElement(
            suite,
            "testcase",
            classname=_xml(report.name or "text"),
            name=_xml(report.title or report.name or "recipe"),
        )
        conflicts = report.by_kind("conflict")
        if conflicts:
            failure = ET.SubElement(case, "failure", message=_xml(conflicts[0].message),
                                    type="conflict")  # fmt: skip
            failure.text = _xml("\n\n".join(_plain(f) for f in conflicts))
        others = [f for f in report.open if f.kind != "conflict"]
        if others:
            out = ET.SubElement(case, "system-out")
            out.text = _xml("\n\n".join(_plain(f) for f in others))
    whole = ET.Element("testsuites")
    whole.append(suite)
    ET.indent(whole)
    return ET.tostring(whole, encoding="unicode", xml_declaration=True)


def _plain(found: Finding) -> str:
    lines = [f"{found.kind} {found.identifier}: {found.message}"]
    lines += [f"  line {q.line_no}: {q.text}" for q in found.quotes]
    lines += [f"  {step}" for step in found.working]
    return "\n".join([*lines, f"  {found.mend}"])


def _xml(text: str) -> str:
    """Text without the control signs that XML forbids."""
    return "".join(ch for ch in text if ch >= " " or ch in "\n\t")
