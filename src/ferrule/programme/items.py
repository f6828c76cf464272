"""Items of a list: name, dose, notes, alternatives. A slip never makes an exercise vanish."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from ferrule.model.finding import Span
from ferrule.model.programme import Dose, Named, Slot
from ferrule.programme.amounts import tell
from ferrule.programme.fields import FieldReader
from ferrule.programme.item_names import by_amount, either_or, name_and_fields, tell_unread
from ferrule.programme.lines import Said, part_coach, prefix_of, say
from ferrule.programme.markdown import Code, Entry, Html, Line, Listing, Para, Table
from ferrule.programme.naming import Names
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain
from ferrule.programme.text import free_forms, inherited, line_text, marked, name_text, own_part
from ferrule.programme.week_values import values_by_week

LINE_LIMIT = 1000

_OR = re.compile(r"or\b[\s:,]*", re.IGNORECASE)
_PICKS = re.compile(r"runner('s)? (?:picks|choice|chooses)\s*:?\s*", re.IGNORECASE)
_LABEL = re.compile(r"[A-Z]\d{0,2}\s*[.)]\s+|[A-Z]\d{1,2}\s*[:\s]\s*(?=[A-Za-z])")
_BULLET = re.compile(r"\[[ xX]?\]\s+|[•·▪◦‣→✓✔●○■–—]\s*|o\s+(?=[A-Z])|-(?=[A-Za-z])")
"""Signs before the name that word processors and telephones put there."""
_MARKS = "*_`"


@dataclass(slots=True)
class ItemDraft:
    """An item before it has its key. `written` are its canonical lines below the first; `raw` its line when unread parts."""

    exercise: Named | Slot
    own: Dose
    dose: Dose
    span: Span
    clean: bool
    raw: str
    optional: bool = False
    weeks: tuple[int, int | None] | None = None
    picks: bool = False
    said: Said = field(default_factory=Said)
    alternatives: list[ItemDraft] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)
    comments: list[Html] = field(default_factory=list)
    followers: list[ItemDraft] = field(default_factory=list)
    spilled: list[Line] = field(default_factory=list)
    implied: bool = False

    def first_line(self, base: Dose | None = None) -> str:
        if not self.clean:
            return self.raw if not self.picks or _PICKS.search(self.raw) else f"runner picks: {self.raw}"
        dose = self.dose if base is None else own_part(self.dose, base)
        text = line_text(self.exercise, dose, optional=self.optional, weeks=self.weeks) or (
            self.raw if base is None else ""
        )
        return f"runner picks: {text}" if self.picks else text

    def lines(self, base: Dose | None = None) -> list[str]:
        """The canonical lines of the item, the first without its list mark."""
        lead = "or " if base is not None and self.clean else ""
        found = [lead + self.first_line(base)]
        found += ["  " + line for part in self.said.written for line in part]
        found += ["  " + line for line in self.kept]
        for other in self.alternatives:
            if other.implied and not self.clean:
                continue  # the line stays as it was written, and names it
            inner = other.lines(self.dose)
            found += ["  - " + inner[0], *("  " + line for line in inner[1:])]
        return found


def read_entry(
    entry: Entry, names: Names, report: Report, *, base: Dose | None = None, depth: int = 0
) -> ItemDraft | None:
    """One list entry. `base` is the dose an alternative inherits from. None when there is no text at all."""
    nodes = list(entry.nodes)
    first = nodes[0] if nodes and isinstance(nodes[0], Para) else None
    nodes = nodes[1:] if first is not None else nodes
    if first is None or not first.lines:
        if not nodes:
            report.add(
                "item-empty", "advice", entry.number, 1, None, "A list item holds nothing.",
                "It was left out.", "Write an exercise after the `-`, or take the line out.",
            )  # fmt: skip
            return None
        draft = ItemDraft(Named("", None), Dose(), Dose(), report.span(entry.number, 1), False, "")
    else:
        draft = read_line(first.lines[0], names, report, base=base)
        _below(first.lines[1:], entry, draft, report)
    picks_only = draft.picks and not draft.exercise.text if isinstance(draft.exercise, Named) else False
    for node in nodes:
        if isinstance(node, Para):
            draft.said.open = ""
            _below(node.lines, entry, draft, report)
        elif isinstance(node, Listing):
            for inner in node.entries:
                picks_only = _nested(inner, draft, names, report, picks_only, depth)
        elif isinstance(node, Table):
            draft.tables.append(node)
        elif isinstance(node, Html):
            draft.comments.append(node)
        elif isinstance(node, Code):
            _code_below(node, draft, report)
    return draft


def _code_below(node: Code, draft: ItemDraft, report: Report) -> None:
    if not node.lines:
        return
    report.add(
        "fenced-text", "advice", node.lines[0].number, node.lines[0].column, None,
        "Text between fences was not read.", "Fences mark text that is to be left as it is.", "Take the fences away to have it read.",
    )  # fmt: skip
    draft.kept += [line.text for line in node.lines]


def _below(lines: tuple[Line, ...], entry: Entry, draft: ItemDraft, report: Report) -> None:
    for line in lines:
        if 0 < line.indent < entry.indent and entry.indent > 3:
            draft.spilled.append(line)
            continue
        below_item(line, draft, report)


def below_item(line: Line, draft: ItemDraft, report: Report) -> None:
    """A later line of an item: a note, unless it reads as fields (told, and taken as fields where that is plain)."""
    kind, _ = prefix_of(line, Report(report.file))
    picks = _PICKS.match(line.text)
    if picks and not line.text[picks.end() :].strip():
        draft.picks = True
        return
    if not kind and draft.said.open != "coach" and len(line.text) < LINE_LIMIT and any(c.isdigit() for c in line.text):
        reader = FieldReader(plain(line.text)).read()
        if reader.understood and not reader.unread:
            _fields_below(line, reader, draft, report)
            return
    say(line, draft.said, report, prefix=True)


def _fields_below(line: Line, reader: FieldReader, draft: ItemDraft, report: Report) -> None:
    more = reader.dose()
    names = set(reader.values) - {"effort_word"}
    amounts = ("reps", "hold_s", "work_s", "distance_m", "contacts", "per_set", "cluster", "left", "right", "reps_open")
    clash = any(n in names for n in amounts) and any(getattr(draft.own, n) not in (None, ()) for n in amounts)
    clash = clash or any(
        getattr(draft.own, n) is not None and getattr(draft.own, n) != () for n in names if n != "sides"
    )
    merged = not clash and not draft.said.written and not reader.slips and draft.clean
    report.add(
        "fields-on-later-line", "advice" if merged else "error", line.number, line.column, line.column + len(line.text),
        f"`{short(line.text)}` reads as fields, but stands below its item.",
        "They were taken as fields of the item above." if merged else "Lines below an item are notes; they were read as a note.",
        "Write them on the line of the item, or begin the line with `note:`.",
    )  # fmt: skip
    if not merged:
        draft.said.open = ""
        draft.said.add("note", " ".join(line.text.split()), prefix=True)
        return
    values = {n: getattr(more, n) for n in (*names, "effort_word") if n in reader.values}
    draft.own = marked(replace(draft.own, **values), (*free_forms(draft.own), *reader.free))
    draft.dose = marked(replace(draft.dose, **values), (*free_forms(draft.dose), *reader.free))
    draft.weeks = draft.weeks or reader.weeks
    for other in draft.alternatives:
        other.dose = inherited(other.own, draft.dose)


def _nested(entry: Entry, draft: ItemDraft, names: Names, report: Report, picks_only: bool, depth: int) -> bool:
    """An entry below an item: an alternative, words, or an item set in by mistake. Gives whether the item is still unnamed."""
    first = entry.nodes[0] if entry.nodes and isinstance(entry.nodes[0], Para) else None
    text = first.lines[0].text if first and first.lines else ""
    marked_words = bool(text) and first is not None and prefix_of(first.lines[0], Report(report.file))[0] != ""
    if first is not None and marked_words:
        draft.said.open = ""
        for line in first.lines:
            say(line, draft.said, report, prefix=True)
        for node in entry.nodes[1:]:
            if isinstance(node, Listing):
                for inner in node.entries:
                    _nested(inner, draft, names, report, picks_only, depth + 1)
        return picks_only
    is_or = bool(_OR.match(text))
    if picks_only:
        found = read_entry(entry, names, report, depth=depth + 1)
        if found is None:
            return True
        draft.exercise, draft.own, draft.dose, draft.clean = found.exercise, found.own, found.dose, found.clean
        draft.weeks = draft.weeks or found.weeks
        draft.optional, draft.span, draft.raw = (
            draft.optional or found.optional,
            found.span,
            f"runner picks: {found.raw}",
        )
        _take(draft, found)
        draft.alternatives += found.alternatives
        return False
    if is_or or draft.picks:
        found = read_entry(entry, names, report, base=draft.dose, depth=depth + 1)
        if found is None:
            return False
        if depth >= 1 and is_or:
            report.add(
                "or-too-deep", "advice", entry.number, found.span.column, None, "An alternative stands below another alternative.",
                "All alternatives of an item are one list, in their order; it was read so.", "Set them all in by two spaces.",
            )  # fmt: skip
        draft.alternatives.append(found)
        draft.alternatives += [replace(a, dose=inherited(a.own, draft.dose)) for a in found.alternatives]
        for line in found.spilled:
            below_item(line, draft, report)
        found.alternatives, found.spilled = [], []
        draft.followers += found.followers
        found.followers = []
        return False
    probe = names.longest(text.split(":")[0].strip(_MARKS + " ")) if text else None
    if text and probe is None and ":" not in text:
        report.add(
            "nested-text", "advice", entry.number, first.lines[0].column if first else 1, None,
            f"`{short(text)}` stands below an item; it was read as a note.",
            "Below an item stand alternatives (`- or ...`) and notes.", "Begin it with `note:` and leave the `-` out.",
        )  # fmt: skip
        draft.said.open = ""
        draft.said.add("note", " ".join(text.split()), prefix=True)
        return False
    found = read_entry(entry, names, report, depth=depth + 1)
    if found is not None:
        report.add(
            "nested-without-or", "error", entry.number, found.span.column, None,
            f"`{short(text)}` is set in below another item, but does not begin with `or`.",
            "It was read as an item of its own, after the one above.",
            "Write `- or ...` for an alternative; take the spaces away for an item.",
        )  # fmt: skip
        draft.followers += [found, *found.followers]
        found.followers = []
    return False


def _take(draft: ItemDraft, found: ItemDraft) -> None:
    draft.said.notes += found.said.notes
    draft.said.coach += found.said.coach
    draft.said.conditions += found.said.conditions
    draft.said.written += found.said.written
    draft.kept += found.kept
    draft.followers += found.followers


def _by_week(text: str, start: int, exercise: Named | Slot) -> FieldReader | None:
    """The fields of a line that gives values week by week; None when it does not."""
    colon = re.search(r"(?<!\d):|:(?!\d)", text[start:])
    digit = re.search(r"\d", text[start:])
    if digit is None:
        return None
    low = (
        colon.end()
        if colon and colon.end() <= digit.start() and "week" not in text[: start + colon.end()].lower()
        else digit.start()
    )
    if text[start : start + low].lower().rstrip().endswith(("week", "weeks", "wk")):
        low = text.lower().rfind("w", 0, start + low) - start
    return values_by_week(text, start + low, name_text(exercise))


def read_line(line: Line, names: Names, report: Report, *, base: Dose | None = None) -> ItemDraft:
    """The first line of an item: `Step-up: 5-7/side, 2 RIR`."""
    whole = line
    line, hidden = part_coach(line, report)
    text = plain(line.text)
    start = 0
    picks = False
    found = _BULLET.match(text)
    if found:
        start = found.end()
    found = _PICKS.match(text, start)
    if found:
        picks, start = True, found.end()
    found = _OR.match(text, start)
    if found:
        start = found.end()
        again = _PICKS.match(text, start)
        if again:
            picks, start = True, again.end()
    found = _LABEL.match(text, start)
    if found and names.longest(text[found.end() :].lstrip(_MARKS)):
        start = found.end()
    if len(text) > LINE_LIMIT:
        report.add(
            "line-too-long", "error", line.number, line.column, None, f"The line is longer than {LINE_LIMIT} signs.",
            "No prescription is; its end was not read.", "Check for a missing line end.",
        )  # fmt: skip
        text = text[:LINE_LIMIT]
    others: tuple[Named, ...] = ()
    if base is None:
        text, others = either_or(text, start, line, names, report)
    exercise, reader, clean = name_and_fields(text, start, line, names, report)
    text = plain(line.text)[:LINE_LIMIT] if others else text
    by_week = _by_week(text, start, exercise) if reader.weeks or reader.unread or reader.slips else None
    reader = by_week or reader
    tell(reader.slips, line, report)
    clean = clean and not any(s.level == "error" for s in reader.slips)
    for low, high in reader.unread:
        clean = False
        tell_unread(text, low, high, line, report)
    own = reader.dose()
    if (
        own.unfitted
        and not reader.unread
        and not any(s.level == "error" or s.code == "effort-differs" for s in reader.slips)
    ):
        forms = ", ".join(f"`{u}`" for u in own.unfitted)
        report.add(
            "not-fitted", "note", line.number, line.column, line.column + len(line.text), f"{forms}: read and printed, not fitted.",
            "The fit leaves these as written for every runner.", "Nothing has to be done; check that it suits everyone.",
        )  # fmt: skip
    dose = own if base is None else inherited(own, base)
    exercise, others = by_amount(exercise, dose), tuple(by_amount(o, dose) for o in others)
    span = report.span(line.number, line.column, line.column + len(line.text))
    raw = " ".join(whole.text.split()) if len(whole.text) < LINE_LIMIT else whole.text
    draft = ItemDraft(
        exercise, own, dose, span, clean and len(line.text) <= LINE_LIMIT, raw, reader.optional, reader.weeks, picks
    )
    draft.picks = draft.picks or bool(others)
    draft.alternatives = [
        ItemDraft(o, Dose(), inherited(Dose(), dose), span, True, o.text, implied=True) for o in others
    ]
    if hidden:
        if draft.clean:
            draft.said.add("coach", hidden, prefix=True)
            draft.said.open = ""
        else:
            draft.said.coach.append(hidden)
    return draft
