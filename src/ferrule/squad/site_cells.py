"""Sites in the cells `kit` and `days`: what is where, and on which days the runner trains there."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from ferrule.model.finding import Finding
from ferrule.model.squad import KitItem, Site
from ferrule.model.words import DAYS
from ferrule.squad.cell import Cell, fault, shown
from ferrule.squad.kit_cell import names_kind, read_kit
from ferrule.squad.sites import ANY_DAY
from ferrule.squad.week_cells import is_day_word, read_days

EVERYWHERE = frozenset(("everywhere", "anywhere", "all places", "at all places", "any place"))
"""What may be written for pieces that are at hand wherever the runner trains."""
MOST_SITES = 4
"""The fit weighs every line once for each site."""
_HEAD = re.compile(r"([^\W\d_][\w' .-]{0,29}?) ?: ?(.*)", re.DOTALL)
_PARTS = re.compile(r"([|;\n]|,(?=\s)|,$)")
_WORDS = re.compile(r"[^\s,;/&+|:]+|[:,/&+]")
_BETWEEN = frozenset((",", "/", "&", "+", "and", "or"))


@dataclass(frozen=True, slots=True)
class Kits:
    """The kit cell: what is at hand everywhere, and what only at a site, by its name, in the order written."""

    everywhere: tuple[KitItem, ...]
    sites: Mapping[str, tuple[KitItem, ...]]


def read_kits(cell: Cell) -> tuple[Kits, list[Finding]]:
    """`home: mat; step 20 cm | club: barbell 20 kg; bench`; pieces before the first site are at hand everywhere.

    A site begins with its name and a colon, at the start of the cell, after `|`, or at the start of any entry. Without
    one the whole cell is what is at hand everywhere. A site named twice has both; after `|` its name must stand.
    """
    texts = _by_site(cell)
    if all(name == "" for name, _ in texts):
        kit, findings = read_kit(cell)
        return Kits(kit, {}), findings
    everywhere: tuple[KitItem, ...] = ()
    sites: dict[str, tuple[KitItem, ...]] = {}
    findings = []
    for name, text in texts:
        if name is None:
            why = "Nobody can tell where these pieces are, so they are left out."
            what = f"{shown(text)} stands after a bar without the name of a site"
            findings.append(fault(cell, "site-without-name", what, why, 'Write "home: mat; step 20 cm | club: bench".'))
            continue
        kit, found = read_kit(replace(cell, text=text))
        findings += found
        known = next((s for s in sites if s.lower() == name.lower()), None)
        if name == "" or name.lower() in EVERYWHERE:
            everywhere += kit
        elif known is not None:
            sites[known] += kit
            what = f"the kit at {shown(known)} is written twice"
            why = "Both are taken to be there, and that may be a slip."
            findings.append(fault(cell, "site-twice", what, why, "Write each site once.", level="advice"))
        elif len(sites) == MOST_SITES:
            what = f"{shown(name)} is one site more than {MOST_SITES}"
            why = "A runner trains at no more sites than that here; what is there is left out."
            findings.append(fault(cell, "too-many-sites", what, why, "Leave out the sites that matter least."))
        else:
            sites[name] = kit
    return Kits(everywhere, sites), findings


def _by_site(cell: Cell) -> list[tuple[str | None, str]]:
    """(site, entries) in the order written: "" before any site, None after a bar without a name."""
    out: list[tuple[str | None, list[str]]] = [("", [])]
    pieces = ["", *_PARTS.split(cell.plain)]
    for mark, text in zip(pieces[::2], pieces[1::2], strict=True):
        head = _HEAD.fullmatch(text.strip())
        if head is not None and _may_be_site(head[1]):
            out.append((head[1], [head[2]]))
        elif mark == "|" and text.strip():
            out.append((None, [text.strip()]))
        else:
            out[-1][1].append(text)
    return [
        (name, "; ".join(t for t in texts if t.strip())) for name, texts in out if any(t.strip() for t in texts) or name
    ]


def _may_be_site(name: str) -> bool:
    return not names_kind(name) and not any(is_day_word(w) for w in name.lower().split())


def read_sites(kits: Kits, kit_cell: Cell, cell: Cell) -> tuple[tuple[int, ...], tuple[Site, ...], list[Finding]]:
    """(possible days, sites, findings) from the cell `days`: `Mon Wed home; Fri club`, or `home: Mon Wed | club: Fri`.

    A site stands after its days, as the kind of a run does, or before them with a colon; `at` may stand before it. Days
    without one are trained at the first site. A site the kit cell does not know has what is everywhere, and that is told.
    Sites is empty when nothing names one.
    """
    where, findings = _days_by_site(cell, kits)
    if where is None:
        days, findings = read_days(cell)
        where = {"": days} if days else {}
        if not kits.sites:
            return days, (), findings
    names = list(kits.sites)
    if where.get("") and names:
        where = {
            names[0]: tuple(sorted({*where.pop(""), *where.get(names[0], ())})),
            **{k: v for k, v in where.items() if k != names[0]},
        }
    names += [n for n in where if n not in names]
    taken: dict[int, str] = {}
    for name in names:
        for day in where.get(name, ()):
            if day in taken:
                what = f"{DAYS[day]} is at {shown(taken[day])} and at {shown(name)} in {shown(cell.text)}"
                why = f"A day is trained at one site; {DAYS[day]} is kept at {taken[day]}."
                findings.append(fault(cell, "day-at-two-sites", what, why, "Write the day once."))
            else:
                taken[day] = name
    sites = tuple(
        Site(name, kits.everywhere + kits.sites.get(name, ()), tuple(d for d in ANY_DAY if taken.get(d) == name))
        for name in names
    )
    used = tuple(s for s in sites if s.days) or sites[:1]
    if not findings:  # else that is the slip, and this would say it again
        unused = [s.name for s in sites if not s.days and s not in used and s.name in kits.sites]
        findings += [_without_day(kit_cell, name, used) for name in unused]
    return tuple(sorted(taken)), used, findings


def _without_day(cell: Cell, name: str, used: tuple[Site, ...]) -> Finding:
    read = "; ".join(f"{' '.join(DAYS[d] for d in s.days)} {s.name}".strip() for s in used)
    return fault(
        cell,
        "site-without-day",
        f"no day is trained at {shown(name)}",
        f"Its kit is not used. The days are read as: {read or 'none'}.",
        f'Write in the column days "Mon Wed {used[0].name}; Fri {name}".' if used else "Name the days.",
        level="advice",
    )


def _days_by_site(cell: Cell, kits: Kits) -> tuple[dict[str, tuple[int, ...]] | None, list[Finding]]:
    """Site -> days, "" where none is named; None when the cell names no site at all."""
    known = {n.lower(): n for n in kits.sites}
    where: dict[str, tuple[int, ...]] = {}
    findings: list[Finding] = []
    named = False
    for part in re.split(r"[|;\n]", cell.plain):
        for name, told, text in _named_days(part, bool(known)):
            days, found = read_days(replace(cell, text=text)) if text.strip(" ,") else ((), [])
            findings += [replace(f, span=cell.span) for f in found]
            site = known.get(name.lower(), name)
            named = named or told
            if told and known and name.lower() not in known:
                findings.append(_unknown(cell, name, list(kits.sites), days))
            if days or told:
                where[site] = tuple(sorted({*where.get(site, ()), *days}))
    return (where, findings) if named else (None, [])


def _named_days(part: str, sites: bool) -> list[tuple[str, bool, str]]:
    """(site, is one named, its days in words) of one part of the cell. sites: words that are no days are sites."""
    head = _HEAD.fullmatch(part.strip())
    if head is not None and not any(is_day_word(w) for w in head[1].lower().split()):
        return [(head[1], True, head[2])]
    words = _WORDS.findall(
        re.sub(r"(?<=\w) ?- ?(?=\w)", "-", re.sub(r"\b(any|every) day\b", "any", part, flags=re.IGNORECASE))
    )
    runs: list[tuple[bool, list[str]]] = []  # words of one kind in a row: days, or the name of a site
    at = False
    for word in words:
        if word.lower() in ("at", "@"):
            at = True
            continue
        day = word.lower() in _BETWEEN or is_day_word(word)
        if runs and runs[-1][0] == day:
            runs[-1][1].append(word)
        else:
            runs.append((day, [word]))
    if all(day for day, _ in runs) or not (sites or at):
        return [("", False, part)]
    first = next(n for n, (day, run) in enumerate(runs) if not day or any(w.lower() not in _BETWEEN for w in run))
    runs = runs[first:]
    if runs[-1][0] != runs[0][0]:  # days and name in turn, the one or the other first
        pairs = list(zip(runs[::2], runs[1::2], strict=True))
    elif runs[0][0]:
        pairs = [*zip(runs[:-1:2], runs[1::2], strict=True), (runs[-1], (False, []))]
    else:
        pairs = [*zip(runs[:-1:2], runs[1::2], strict=True), (runs[-1], (True, []))]
    out = []
    for one, other in pairs:
        days, name = (one[1], other[1]) if one[0] else (other[1], one[1])
        if name or any(w.lower() not in _BETWEEN for w in days):
            out.append((" ".join(name), bool(name), " ".join(days)))
    return out


def _unknown(cell: Cell, name: str, known: list[str], days: tuple[int, ...]) -> Finding:
    near = get_close_matches(name.lower(), [k.lower() for k in known], 1)
    fix = (
        f"Write {next(k for k in known if k.lower() == near[0])}."
        if near
        else f"Tell in the column kit what is there: {name}: ..."
    )
    on = ", ".join(DAYS[d] for d in days)
    return fault(
        cell,
        "unknown-site",
        f"{shown(name, 30)} in {shown(cell.text)} is neither a weekday nor a site of the kit ({', '.join(known)})",
        f"Nothing says what is there{f', so on {on} only what is at hand everywhere is used' if on else ''}.",
        fix,
    )
