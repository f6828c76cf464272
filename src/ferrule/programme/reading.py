"""One pass over the blocks of a text: structure, items, words. Gives drafts, and the canonical text beside them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ferrule.programme.amounts import tell
from ferrule.programme.apart import Apart, first_line
from ferrule.programme.drafts import BlockDraft, Chunk, CycleDraft, SessionDraft
from ferrule.programme.guessed_heads import Guess, tell_missed
from ferrule.programme.head_notes import tell_unfitted
from ferrule.programme.head_text import block_head, cycle_head, session_head
from ferrule.programme.heads import Head, read_head
from ferrule.programme.items import ItemDraft, read_entry, read_line
from ferrule.programme.lines import Said, part_coach, prefix_of, say
from ferrule.programme.markdown import Entry, Html, Line, Listing, Node, Para, Table
from ferrule.programme.near_heads import tell_lone_rest
from ferrule.programme.report import Report, short
from ferrule.programme.week_rules import is_rule

_AIM = re.compile(r"aim\s*:\s*", re.IGNORECASE)
_SETS_TIMES = re.compile(r"\d\s*[x×*]\s*\d", re.IGNORECASE)
_TOP_OR = re.compile(r"or\b", re.IGNORECASE)


@dataclass(slots=True)
class Reading(Apart):
    """The pass itself.

    dashless   the last paragraph that was told to be a list without its `-`
    """

    dashless: Para | None = None

    def read(self, nodes: list[Node]) -> None:
        for place, node in enumerate(nodes):
            following = nodes[place + 1] if place + 1 < len(nodes) else None
            if isinstance(node, Para):
                self._para(node, following)
                self.apart = self.apart or (not node.lines and self.block is not None and bool(self.block.items))
            elif isinstance(node, Listing):
                self._listing(node)
            elif isinstance(node, Table):
                self._table(node)
            elif isinstance(node, Html):
                self._html(node)
            else:
                self._code(node)

    def _para(self, para: Para, following: Node | None) -> None:
        said = self._scope()
        said.open = ""
        chunk: Chunk | None = None
        for place, line in enumerate(para.lines):
            last = place == len(para.lines) - 1
            followed = last and isinstance(following, Listing)
            coach_goes_on = said.open == "coach" and not para.level
            if not coach_goes_on or _plain_head(line.text):
                bare, hidden = part_coach(line, Report(self.report.file))
                head = read_head(bare.text)
                if (
                    head is not None
                    and head.kind == "week"
                    and not para.level
                    and self.block is not None
                    and is_rule(bare.text)
                ):
                    head = None
                if hidden and (head is None or not head.whole):
                    hidden, head = "", read_head(line.text)
                if head is not None and self._head(head, bare if hidden else line, para.level, followed):
                    said = self._scope()
                    said.open = ""
                    chunk = None
                    if hidden:
                        part_coach(line, self.report)
                        said.add("coach", " ".join(hidden.split()), prefix=True)
                        self.chunks += [Chunk(part) for part in said.written[-1:]]
                    continue
            if place == 0 and said.open != "coach":
                day = self._weekday(para, following)
                if day is not None and self._head(day, line, 1, False):
                    said, chunk = self._scope(), None
                    said.open = ""
                    continue
            if said.open != "coach":
                guess = self._guess(para, place, following)
                if guess is not None:
                    self._guessed_head(guess, line)
                    said, chunk = self._scope(), None
                    said.open = ""
                    continue
            if para.level and self._title(line, para.level):
                continue
            if line.text.startswith("|"):
                self._lone_row(line)
                chunk = None
                continue
            if self._unlisted_item(line, para):
                chunk = None
                continue
            if isinstance(following, Listing) and said.open != "coach":
                self._words_apart(para, line, following)
            if said is not self._scope():
                said = self._scope()
                said.open = ""
            self.apart = self.block is not None and bool(self.block.items)
            if self.block is not None and said.open != "coach":
                tell_lone_rest(line, self.report)
            before = len(said.written)
            aim = _AIM.match(line.text)
            if aim and self.cycles and not self.cycles[-1].sessions and not said.open and not self.cycles[-1].aim:
                text = " ".join(line.text[aim.end() :].split())
                self.cycles[-1].aim = text
                tight = (
                    bool(self.chunks)
                    and self.chunks[-1].lines[:1] == self.chunks[-1].lines[-1:]
                    and self.chunks[-1].lines[0].startswith("#")
                )
                self.chunks.append(Chunk([f"Aim: {text}"], tight=tight))
                chunk = None
                continue
            if para.level:
                self.report.add(
                    "heading-not-read", "advice", line.number, line.column, line.column + len(line.text),
                    f"The heading `{short(line.text)}` names no part of a programme; it was read as a note.",
                    "Cycles, sessions and blocks are told by their first word.",
                    "Begin it with Cycle, Session, Warm-up, Pair, Circuit or Straight; or write it without #.",
                )  # fmt: skip
            say(line, said, self.report, prefix=False)
            if len(said.written) > before:
                for part in said.written[before:]:
                    chunk = Chunk(part)
                    self.chunks.append(chunk)
            self.coach_line = line.number if said.open == "coach" else 0

    def _guessed_head(self, guess: Guess, line: Line) -> None:
        """Opens the block a line was read to begin. Findings: head-guessed, or head-not-read when not all was understood."""
        if guess.missed:
            guess.head.slips = tell_missed(guess, line)
        else:
            self.report.add(
                "head-guessed", "advice", line.number, line.column, line.column + len(line.text),
                f"`{short(line.text)}` stands before a list, but does not begin like a head; it was read as `{guess.meant}`.",
                "Without a head the list would belong to the block above, or to none.", f"Write `{guess.meant}`.",
            )  # fmt: skip
        self._head(guess.head, line, 0, True)

    def _head(self, head: Head, line: Line, level: int, followed: bool) -> bool:
        """Opens the part a head names; False when the line is prose after all."""
        if head.only_named and not head.whole and not any(s.level == "error" for s in head.slips):
            if not (followed or level):
                return False
            head.whole = True
        if not head.whole:
            if not level and not followed and head.looks_like_prose:
                return False
            fix = _head_fix(head)
            if head.slips:
                tell([replace(s, fix=s.fix or fix) for s in head.slips], line, self.report)
            else:
                self.report.add(
                    "head-not-read", "error", line.number, line.column, line.column + len(line.text),
                    f"`{short(line.text)}` begins like the head of a part, but does not read as one.",
                    "It was read as a note." if not (level or followed) else "What was understood of it was kept.", fix,
                )  # fmt: skip
            if head.kind == "week" and head.weeks is None:
                return False
            if not (level or followed or head.label or head.kind == "block"):
                return False
        else:
            tell(list(head.slips), line, self.report)
        self.apart = False
        span = self.report.span(line.number, line.column, line.column + len(line.text))
        clean = head.whole and not any(s.level == "error" for s in head.slips)
        tell_unfitted(head, line, self.report)
        if head.kind in ("cycle", "week"):
            self._open_cycle(head, line, clean)
        elif head.kind == "session":
            cycle = self._cycle(line)
            cycle.sessions.append(SessionDraft(head, span))
            self.block = None
            text = session_head(head.label, head.name, head.minutes, head.day, head.more)
            self.chunks.append(Chunk([text if clean else "### " + line.text]))
        else:
            session = self._session(line)
            self.block = BlockDraft(head, span)
            session.blocks.append(self.block)
            text = block_head(head.block, head.label, head.sets, head.rest_s, head.between_s, head.more)
            self.chunks.append(Chunk([text if clean else line.text]))
        return True

    def _open_cycle(self, head: Head, line: Line, clean: bool) -> None:
        span = self.report.span(line.number, line.column, line.column + len(line.text))
        self.cycles.append(CycleDraft(head, span))
        self.block = None
        text = cycle_head(head.label, head.name, head.weeks, head.more)
        self.chunks.append(Chunk([text if clean else "## " + line.text]))

    def _title(self, line: Line, level: int) -> bool:
        if level == 1 and not self.cycles and not self.heading and not self.front.title:
            self.heading = " ".join(line.text.split())
            self.chunks.append(Chunk([f"# {self.heading}"]))
            return True
        return False

    def _unlisted_item(self, line: Line, para: Para) -> bool:
        """A line in a block that is an item without its `-`: told and read as one."""
        if para.level or self._scope().open == "coach":
            return False
        waiting = self.block is None and bool(self.cycles) and bool(self.cycles[-1].sessions)
        if not (waiting and _SETS_TIMES.search(line.text)) and self.block is None:
            return False
        if not self._named(line):
            return False
        if self.block is None:
            self.block = BlockDraft(Head("block", "straight"), self.report.span(line.number, line.column), implied=True)
            self.cycles[-1].sessions[-1].blocks.append(self.block)
            self.chunks.append(Chunk(["Straight"]))
        if self.apart and self.block.items:
            self._block_apart(line, "These lines stand apart from the list above and have no head.")
        if para is not self.dashless:
            self.report.add(
                "item-without-dash", "advice", line.number, line.column, line.column + len(line.text),
                f"`{short(line.text)}` reads as an item, but does not begin with `-`.",
                "It was read as an item of this block.",
                "Begin the line with `- `." if line is para.lines[-1] else "Begin each line of the list with `- `.",
            )  # fmt: skip
            self.dashless = para
        self._items([read_line(line, self.names, self.report)])
        return True

    def _listing(self, listing: Listing) -> None:
        first = first_line(listing.entries[0]) if listing.entries else None
        said = self._scope()
        if said.open == "coach" and first is not None and (said.waits_for_list or first.number == self.coach_line + 1):
            self._coach_entries(listing)
            return
        if self.block is None and not self._looks_like_items(listing):
            said.open = ""
            self._prose_entries(listing)
            return
        if self.block is not None and self.block.items and self.apart:
            line = first or Line("", listing.entries[0].number, 1)
            if not self._looks_like_items(listing):
                self.report.add(
                    "list-read-as-words", "advice", line.number, line.column, line.column + len(line.text),
                    "This list names no exercise that is known and holds no numbers; it was read as words for the runner.",
                    "It stands apart from the list above.", "If it is to be done, write a head such as `Straight, 2 sets` before it.",
                )  # fmt: skip
                said.open = ""
                self._prose_entries(listing)
                return
            self._block_apart(line, "This list stands apart from the one above it and has no head.")
        if self.block is None:
            line = first or Line("", listing.entries[0].number, 1)
            session = self._session(line)
            self.report.add(
                "head-missing", "advice", line.number, line.column, line.column + len(line.text),
                "A list of exercises has no head.", "It was read as straight sets.",
                "Write a line such as `Straight, 3 sets, rest 90 s` or `Pair A, 3 rounds` before it.",
            )  # fmt: skip
            self.block = BlockDraft(Head("block", "straight"), self.report.span(line.number, line.column), implied=True)
            session.blocks.append(self.block)
            self.chunks.append(Chunk(["Straight"]))
        drafts: list[ItemDraft] = []
        last: Said | None = None
        for entry in _unwrapped(listing.entries):
            if last is not None and last.waits_for_list:
                self._coach_entries(Listing([entry]), last)
                continue
            last = self._entry(entry, drafts)
        self._items(drafts)

    def _entry(self, entry: Entry, drafts: list[ItemDraft]) -> Said | None:
        """Reads one entry into `drafts` or the words of the block; gives where its last words went."""
        line = first_line(entry)
        if line is not None:
            kind, _ = prefix_of(line, Report(self.report.file))
            if kind:
                self._words_entry(entry, drafts)
                return self._scope()
            previous = drafts[-1] if drafts else self.block.items[-1] if self.block and self.block.items else None
            if previous is not None and _TOP_OR.match(line.text) and (" " in line.text):
                self.report.add(
                    "or-not-set-in", "advice", line.number, line.column, line.column + len(line.text),
                    "An alternative stands at the same depth as its item.",
                    "It was read as an alternative of the item before it.", "Set it in by two spaces.",
                )  # fmt: skip
                found = read_entry(entry, self.names, self.report, base=previous.dose, depth=1)
                if found is not None:
                    previous.alternatives += [found, *found.alternatives]
                    previous.followers += found.followers
                    found.alternatives, found.followers = [], []
                    drafts += previous.followers
                    previous.followers = []
                return found.said if found is not None else None
        draft = read_entry(entry, self.names, self.report)
        if draft is not None:
            drafts.append(draft)
            drafts += draft.followers
            draft.followers = []
        return draft.said if draft is not None else None

    def _words_entry(self, entry: Entry, drafts: list[ItemDraft]) -> None:
        """`- note: ...` and `- coach: ...` in the list itself belong to the block."""
        said = self._scope()
        for node in entry.nodes:
            said.open = "" if not said.open or not isinstance(node, Listing) else said.open
            if isinstance(node, Para):
                said.open = ""
                before = len(said.written)
                for line in node.lines:
                    say(line, said, self.report, prefix=False)
                self._insert([Chunk(part) for part in said.written[before:]])
            elif isinstance(node, Listing):
                if said.open == "coach":
                    self._coach_entries(node)
                else:
                    for inner in node.entries:
                        self._entry(inner, drafts)
            elif isinstance(node, Html):
                self._html(node)

    def _insert(self, chunks: list[Chunk]) -> None:
        """Words of the block that stand inside its list are written above it, so that they do not part the list."""
        at = len(self.chunks)
        if self.block is not None and self.block.items:
            while at and not self.chunks[at - 1].items:
                at -= 1
            at = max(at - 1, 0)
        self.chunks[at:at] = chunks

    def _items(self, drafts: list[ItemDraft]) -> None:
        if self.block is None:
            return
        self.block.items += drafts
        if self.chunks and self.chunks[-1].items:
            self.chunks[-1].items += drafts
        else:
            self.chunks.append(Chunk(items=list(drafts)))
        tables = [t for d in drafts for item in (d, *d.alternatives) for t in item.tables]
        comments = [c for d in drafts for item in (d, *d.alternatives) for c in item.comments]
        for table in tables:
            self._table(table)
        for comment in comments:
            self._html(comment)

    def _coach_entries(self, listing: Listing, where: Said | None = None) -> None:
        """A list that goes on a `coach:` is for the coach too, whatever it looks like."""
        said = where or self._scope()
        lines = _all_lines(listing)
        if any(self.names.longest(line.text.strip("*_ ")) for line in lines):
            self.report.add(
                "list-under-coach", "advice", lines[0].number, lines[0].column, lines[0].column + len(lines[0].text),
                "This list goes on a `coach:` and was read as words for the coach.", "No runner will see it.",
                "If it is to be done, write a head such as `Straight, 3 sets` before it.",
            )  # fmt: skip
        for line in lines:
            before = len(said.written)
            text = " ".join(prefix_of(line, Report(self.report.file))[1].text.split())
            said.add("coach", text.rstrip(" :"), prefix=True)  # its colon announces no further list
            if said is self._scope():
                self.chunks += [Chunk(part) for part in said.written[before:]]
        if lines:
            said.pending, said.open = True, "coach"

    def _prose_entries(self, listing: Listing) -> None:
        """A list outside any block is prose for the runner."""
        said = self._scope()
        lines: list[str] = []
        for line in _joined(_all_lines(listing), self.report.file):
            kind, _ = prefix_of(line, Report(self.report.file))
            before = len(said.written)
            if kind:
                if lines:
                    self.chunks.append(Chunk(lines))
                    lines = []
                said.open = ""
                say(line, said, self.report, prefix=False)
                self.chunks += [Chunk(part) for part in said.written[before:]]
                continue
            text = " ".join(line.text.split())
            said.notes.append(f"- {text}")
            said.open = ""
            lines.append(f"- {text}")
        if lines:
            self.chunks.append(Chunk(lines))


def _plain_head(text: str) -> bool:
    head = read_head(text)
    return head is not None and head.whole and not head.only_named


def _unwrapped(entries: list[Entry]) -> list[Entry]:
    """Entries that begin with text of their own; one that opens another list first (`- - Squat: 8`) gives way to it."""
    found: list[Entry] = []
    for entry in entries:
        nodes = entry.nodes
        while nodes and isinstance(nodes[0], Listing):
            found += _unwrapped(nodes[0].entries)
            nodes = nodes[1:]
        if nodes or not entry.nodes:
            found.append(entry if nodes is entry.nodes else Entry(entry.number, entry.indent, nodes))
    return found


def _joined(lines: list[Line], file: str) -> list[Line]:
    """Lines that go on with the one before them made one, so that none comes to look like an item of its own."""
    found: list[Line] = []
    for line in lines:
        goes_on = found and line.first is False and not prefix_of(line, Report(file))[0]
        if goes_on and not prefix_of(found[-1], Report(file))[0]:
            found[-1] = replace(found[-1], text=f"{found[-1].text} {line.text}")
        else:
            found.append(line)
    return found


def _all_lines(listing: Listing) -> list[Line]:
    found: list[Line] = []
    for entry in listing.entries:
        for node in entry.nodes:
            if isinstance(node, Listing):
                found += _all_lines(node)
            else:
                found += node.lines
    return found


def _head_fix(head: Head) -> str:
    if head.kind == "block":
        return "Write for example `Pair A, 3 rounds, rest 90 s`, `Straight, 3 sets, rest 2 min` or `Warm-up, 1 round`."
    if head.kind == "session":
        return "Write for example `### Session 1: calf and hip, 35 min`."
    return "Write for example `## Cycle 1, weeks 1-3: Foundations`."
