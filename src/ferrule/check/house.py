"""`house.toml`: the coach's thresholds, read and written."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from ferrule.check.rules import RULES
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.house import THRESHOLDS, House, Threshold
from ferrule.model.quantity import number

_TOP = ("coach", "contact", "off", "thresholds")
_BY_KEY = {t.key: t for t in THRESHOLDS}
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")
_HEAD = re.compile(r"^\s*\[\s*\"?([^\]\"]*?)\"?\s*\]")
_KEY = re.compile(r"^\s*[\"']?([^\s=\"'.]+)[\"']?\s*=")
_MOST_MENDED = 50
_WHY = "House rules are read strictly, so that a slip does not quietly leave a default in force."


def read_house(data: bytes, file: str) -> tuple[House, tuple[Finding, ...]]:
    """The house rules of a TOML file: `coach`, `contact`, `off = [rule names]`, `[thresholds]` key = number or "off".

    Never raises. A line that is no TOML is left out and told; unknown keys are told with the nearest right one;
    a value of the wrong type or out of range is told and its default stays.
    """
    findings: list[Finding] = []
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("utf-8-sig", errors="replace")
        findings.append(_fault("house-encoding", "The file is not UTF-8", "Save it as UTF-8.", Span(file, 1)))
    table, mended = _parse(text, file)
    findings += mended
    lines = _key_lines(text)

    def at(section: str, key: str) -> Span:
        return Span(file, lines.get((section, key), 1))

    for key in table:
        if key not in _TOP:
            findings.append(_unknown("house-unknown-key", key, _near(key), at("", key)))
    words = {"coach": "", "contact": ""}
    for key in words:
        value = table.get(key, "")
        if isinstance(value, str):
            words[key] = value.strip()
        else:
            findings.append(_wrong_type(key, value, 'words in quotes: `coach = "..."`', at("", key)))
    changed: dict[str, float] = {}
    written = table.get("thresholds", {})
    if isinstance(written, dict):
        for key, value in written.items():
            fault = _threshold_fault(key, value, at("thresholds", key))
            if fault:
                findings.append(fault)
            else:
                without = _BY_KEY[key].off
                changed[key] = without if value == "off" and without is not None else float(value)
    else:
        findings.append(_wrong_type("thresholds", written, "a table: `[thresholds]`", at("", "thresholds")))
    off = _switched_off(table.get("off", []), at("", "off"), findings)
    return House(changed, off, words["coach"], words["contact"]), in_order(findings)


def house_toml() -> str:
    """Every house rule with its default, commented out, its unit, range and source. Reads back as the defaults."""
    out = [
        "# House rules. Take the # away before a line to change it; what stays commented keeps its default.",
        '# "off" in place of the number switches one of them off; those that keep a runner safe cannot be.',
        "",
        'coach = ""    # who signs, as printed on the sheet',
        'contact = ""  # how runners reach the coach',
        "off = []      # names of checks that are not wanted, see docs/rules.md",
        "",
        "[thresholds]",
    ]
    for t in THRESHOLDS:
        out += ["", f"# {t.what}", f"# {number(t.low)} to {number(t.high)}, {t.unit}; {t.source}"]
        out.append(f"# {t.key} = {number(t.default)}")
    return "\n".join(out) + "\n"


def _parse(text: str, file: str) -> tuple[dict[str, Any], list[Finding]]:
    """The table, with lines that are no TOML blanked one at a time and told."""
    findings: list[Finding] = []
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for _ in range(_MOST_MENDED):
        try:
            return tomllib.loads("\n".join(lines)), findings
        except tomllib.TOMLDecodeError as error:
            found = _AT.search(str(error))
            row = int(found[1]) - 1 if found else len(lines) - 1
            column = int(found[2]) if found else 1
            row = next((r for r in range(min(row, len(lines) - 1), -1, -1) if lines[r].strip()), 0)
            what = f"This line cannot be read: {lines[row].strip()[:60]}"
            fix = 'Write `key = number`, or words in quotes: `coach = "..."`.'
            findings.append(_fault("house-unreadable", what, fix, Span(file, row + 1, column)))
            if not lines[row].strip():
                break
            lines[row] = ""
        except RecursionError:
            break
    findings.append(
        _fault("house-unreadable", "The file is not TOML", "Begin from `house.toml` of a new workspace.", Span(file, 1))
    )
    return {}, findings


def _key_lines(text: str) -> dict[tuple[str, str], int]:
    """(table, key) -> line, and ("", table) -> line of its head."""
    out: dict[tuple[str, str], int] = {}
    table = ""
    for n, line in enumerate(text.splitlines(), 1):
        if head := _HEAD.match(line):
            table = head[1]
            out.setdefault(("", table), n)
        elif key := _KEY.match(line):
            out.setdefault((table, key[1]), n)
    return out


def _threshold_fault(key: str, value: object, span: Span) -> Finding | None:
    threshold = _BY_KEY.get(key)
    if threshold is None:
        return _unknown("house-unknown-threshold", key, get_close_matches(key, _BY_KEY, 1), span)
    if value == "off":
        if threshold.off is not None:
            return None
        what = f"{key} cannot be switched off"
        fix = f"Write a number from {number(threshold.low)} to {number(threshold.high)} {threshold.unit}."
        return _fault("house-cannot-be-off", what, fix, span, threshold)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _wrong_type(key, value, f"a number: `{key} = {number(threshold.default)}`", span)
    if not threshold.low <= value <= threshold.high:
        what = f"{key} = {value} is outside {number(threshold.low)} to {number(threshold.high)} {threshold.unit}"
        fix = f"Write a number inside it; {number(threshold.default)} stays in force."
        return _fault("house-out-of-range", what, fix, span, threshold)
    return None


def _switched_off(value: object, span: Span, findings: list[Finding]) -> frozenset[str]:
    if not isinstance(value, list) or not all(isinstance(name, str) for name in value):
        findings.append(_wrong_type("off", value, 'a list of names: `off = ["pair-clash"]`', span))
        return frozenset()
    levels = {rule.name: rule.level for rule in RULES}
    off: set[str] = set()
    for name in value:
        if name not in levels:
            findings.append(_unknown("house-unknown-rule", name, get_close_matches(name, levels, 1), span))
        elif levels[name] == "error":
            what = f"{name} cannot be switched off"
            findings.append(_fault("house-error-rule", what, "Take it out of `off`; it finds what is unsafe.", span))
        else:
            off.add(name)
    return frozenset(off)


def _near(key: str) -> list[str]:
    if key in _BY_KEY:
        return [f"{key} under [thresholds]"]
    if key in {rule.name for rule in RULES}:
        return [f'off = ["{key}"]']
    return get_close_matches(key, _TOP, 1) or get_close_matches(key, _BY_KEY, 1)


def _unknown(code: str, key: str, near: list[str], span: Span) -> Finding:
    fix = f"Write `{near[0]}`." if near else "Take it out; docs/house.md lists every name."
    return _fault(code, f"{key} is not known here", fix, span)


def _wrong_type(key: str, value: object, expected: str, span: Span) -> Finding:
    shown = repr(value) if len(repr(value)) <= 40 else repr(value)[:37] + "..."
    return _fault("house-wrong-type", f"{key} = {shown} is not {expected.split(':')[0]}", f"Write {expected}.", span)


def _fault(code: str, what: str, fix: str, span: Span, threshold: Threshold | None = None) -> Finding:
    return Finding(code, "error", what, _WHY, fix, span, threshold.source if threshold else "")


def changes(house: House) -> Iterator[tuple[Threshold, float]]:
    """The thresholds the coach changed, with the value in force, in the order of the list."""
    changed: Mapping[str, float] = house.changed
    return ((t, changed[t.key]) for t in THRESHOLDS if t.key in changed and changed[t.key] != t.default)


def shown(threshold: Threshold, house: House) -> str:
    """The value in force as people write it: `24`, or `off`."""
    value = house.value(threshold.key)
    switched_off = threshold.key in house.changed and value == threshold.off != threshold.default
    return "off" if switched_off else number(value)
