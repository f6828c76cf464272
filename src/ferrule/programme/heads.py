"""The lines that give a programme its structure, told by their first word: cycle, week, session, day and block heads."""

from __future__ import annotations

import re

from ferrule.model.programme import BlockKind
from ferrule.programme.head import Head as Head
from ferrule.programme.head import HeadKind
from ferrule.programme.head_fields import HeadReader
from ferrule.programme.scan import plain

_FIRST = re.compile(
    r"(?P<cycle>cycle|phase)|(?P<week>weeks?|wks?)|(?P<session>session|day|workout)"
    r"|(?P<warm>warm(?:[ -]?up)?s?)|(?P<straight>straight(?: sets?)?)|(?P<pair>pair|superset)|(?P<circuit>circuit)"
    r"|(?P<cool>cool(?:[ -]?down)s?)",
    re.IGNORECASE,
)
_AFTER = re.compile(r"(?=$|[\s,:;(-])")
_LABEL = re.compile(
    r"\s+([A-Za-z]{1,2}|[A-Za-z]?\d{1,2}[A-Za-z]?)(?=\s*(?:$|[,:;(]|\s-\s|\s\d|\sx\s?\d|\s(?:rest|no|between|weeks?|days?|max|every|from|after|as|at|about|level|choose|twice|once|daily|start|repeat|overlapping|tempo)\b))"
)
_KINDS: dict[str, BlockKind] = {"warm": "warm-up", "straight": "straight", "pair": "pair", "circuit": "circuit", "cool": "cool-down"}  # fmt: skip
_WEEK_SPAN = re.compile(r"\s*(\d{1,4})(?:\s*(?:-|to)\s*(\d{1,4}))?(?=\s*(?:$|[,:;(]|\s-\s|\s+(?:and\s+)?on\b))")
_BREAK = re.compile(r":|(?<= )-(?= )")
_LAST_TIME = re.compile(r"\((\s*(?:about |~)?\d[\d\s-]*(?:min|mins|minutes|')\s*)\)(?=\s*$)", re.IGNORECASE)
_NAME_LIMIT = 60
_SENTENCE = re.compile(r"[.!?;]")


def is_head(text: str) -> bool:
    """Does the line parse whole as a structure line?"""
    head = read_head(text)
    return head is not None and head.whole


def read_head(text: str) -> Head | None:
    """The line as a structure line; None when its first word is not one of the structure words."""
    bare = re.sub(r"^[#*_\s]+", "", text)
    shift = len(text) - len(bare)
    found = _FIRST.match(bare)
    if not found or not _AFTER.match(bare, found.end()):
        return None
    body = plain(text.replace("*", " ").replace("__", "  "))
    group = found.lastgroup or ""
    kind: HeadKind = "block" if group in _KINDS else group  # type: ignore[assignment]
    head = Head(kind, found.group().lower(), block=_KINDS.get(group, "straight"))
    at = shift + found.end()
    if kind == "week":
        span = _WEEK_SPAN.match(body, at)
        if span:
            head.weeks = (int(span.group(1)), int(span.group(2) or span.group(1)))
            head.label = (
                f"week {head.weeks[0]}" if head.weeks[0] == head.weeks[1] else f"weeks {head.weeks[0]}-{head.weeks[1]}"
            )
            at = span.end()
        else:
            head.whole = False
    else:
        label = _LABEL.match(body, at)
        if label:
            head.label = label.group(1).upper() if label.group(1).isalpha() else label.group(1)
            at = label.end()
    if kind == "session" and body.rstrip().endswith(")"):  # `Session A - strength (40 min)`
        body = _LAST_TIME.sub(lambda m: "," + m[1] + " ", body)
    if kind == "block" and body.count(" - ", at) > 1:
        body = body[:at] + body[at:].replace(" - ", " , ")
    if head.first_word == "straight sets" and head.label.isdigit():  # `Straight sets 3`: of what is not said
        head.label, at = "", shift + found.end()
    if head.first_word == "day":
        head.day = int(head.label) if head.label.isdigit() else None
    reader = HeadReader(body)
    colon = _colon(body, at)
    reader.read(head, at, len(body) if colon is None else colon)
    if colon is not None:
        name_end = reader.read_name(head, colon + 1)
        head.name = " ".join(body[colon + 1 : name_end].strip(" ,-:").split())
        if kind == "block" and head.name:
            if len(head.name) > _NAME_LIMIT or any(c.isdigit() for c in head.name):
                first = colon + 1 + len(body[colon + 1 :]) - len(body[colon + 1 :].lstrip())
                reader.unread(first, name_end, kind, name=True)
            else:
                head.name = head.name[:1].upper() + head.name[1:]
                head.more["name"] = head.name
                head.only_named = not head.label and reader.understood == 0 and not reader.missed
    if head.kind == "session" and head.more.get("same_as", ("", "x"))[1] == "":
        head.more["same_as"] = (head.more["same_as"][0], head.label)
    head.slips = tuple(reader.slips)
    named = body[colon + 1 :].strip()[:1].isupper() and not _SENTENCE.search(head.name) if colon is not None else False
    head.whole = head.whole and not reader.missed and (named or not head.only_named)
    rest = body[at:].strip()
    head.looks_like_prose = bool(rest) and rest[:1].islower() and not head.label and reader.understood == 0
    return head


def _colon(body: str, start: int) -> int | None:
    for found in _BREAK.finditer(body, start):
        place = found.start()
        before, after = body[:place].rstrip()[-1:], body[place + 1 :].lstrip()[:1]
        if body[place] == ":":
            if not (body[place - 1 : place].isdigit() and body[place + 1 : place + 3].isdigit()):
                return place
        elif not (before.isdigit() and after.isdigit()):
            return place
    return None
