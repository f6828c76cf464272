"""What a head may say beyond its first word: every field of head_text.py with a usual value, for completion."""

from __future__ import annotations

from ferrule.programme.head import Head

Field = tuple[str, str, bool]
"""The text to write, what it means, and whether more has to be written for it to hold (a session that is not there yet)."""


def head_fields(head: Head, typed: str, first_week: int, last_week: int) -> list[Field]:
    """Fields that suit the kind of head, the number that is typed in them.

    first_week   of the cycle the head stands in
    last_week    of the cycles above it
    """
    digits = "".join(c for c in typed if c.isdigit() or c == "-").strip("-")
    if head.kind == "block":
        return _block(head, digits)
    if head.kind == "session":
        return _session(head, digits, first_week)
    weeks = [(f"weeks {digits or f'{last_week + 1}-{last_week + 3}'}", "weeks of the whole programme", False)]
    return (weeks if head.kind == "cycle" else []) + _cycle(head, digits, last_week)


def _block(head: Head, digits: str) -> list[Field]:
    word = "sets" if head.block == "straight" else "rounds"
    found = [
        (f"{digits or 3} {word}", "how often", False),
        (f"rest {digits or 90} s", f"after each {word.removesuffix('s')}", False),
        ("no rest", "none is meant", False),
    ]
    if head.block != "straight":
        found.append((f"between {digits or 15} s", "between the exercises of a round", False))
    return [
        *found,
        (f"{digits or 12} min", f"{word} one after the other for this time", False),
        (f"max {word}", "as many as possible", False),
        (f"every {digits or 2} min", f"a {word.removesuffix('s')} begins each time so much has gone", False),
        (f"{digits or 40} s on", "work at each station", False),
        (f"{digits or 20} s off", "from one station to the next", False),
        (f"{digits or 6} exercises", "how many of the list are done", False),
        (f"{digits or 60} reps in all", "of the whole block", False),
        ("tempo 2-0-2", "for every item that states none", False),
        (f"at least {digits or 80} % HRmax", "for every item that states none", False),
    ]


def _session(head: Head, digits: str, first_week: int) -> list[Field]:
    label = head.label or "1"
    return [
        (f"{digits or 30} min", "how long the session is", False),
        (f"{digits if '-' in digits else '20-30'} min", "how long, from and to", False),
        (f"day {digits or 1}", "its day of the week; 1 is Monday", False),
        ("days 1, 3 and 5", "done on these days; 1 is Monday", False),
        (f"{digits or 2} a week", "how often it is done in the week", False),
        (f"at least {digits or 2} a week", "how often, or more", False),
        ("every second day", "how often", False),
        ("twice a day", "how often", False),
        (f"{digits or 48} h apart", "the least from one time to the next", False),
        (f"from week {digits if digits.isdigit() else first_week}", "the weeks in which it is done", False),
        ("level beginner", "one of several versions of the session of this number", False),
        (f"choose one of {label}A, {label}B", "in its place stands one of these sessions", True),
        ("as session 1", "the exercises of that session", True),
        ("after the run", "beside the run of that day", False),
        ("before the run", "beside the run of that day", False),
        ("same day as the run", "beside the run of that day", False),
        ("morning", "part of the day", False),
        ("afternoon", "part of the day", False),
        ("evening", "part of the day", False),
        ("supervised", "somebody is there", False),
        ("on your own", "nobody has to be there", False),
        (f"{digits or 60} contacts", "foot contacts of the whole session", False),
        (f"up to {digits or 60} contacts", "foot contacts of the whole session, at most", False),
    ]


def _cycle(head: Head, digits: str, last_week: int) -> list[Field]:
    first = head.weeks[0] if head.weeks else last_week + 1
    end = head.weeks[1] if head.weeks else last_week + 3
    on = f"from week {digits if digits.isdigit() else first} on"
    return [
        *([(on, "goes on until the coach ends it", False)] if head.kind == "cycle" else []),
        (f"sessions {digits or '1-6'}", "counted in sessions, not in weeks", True),
        (f"repeat to week {digits if digits.isdigit() else 2 * end}", "its weeks begin again after the last", False),
        ("overlapping", "shares weeks with another cycle on purpose", False),
        (f"start in week {digits or first}", "when it begins depends on the person", True),
        (f"{digits or 3} a week", "sessions a week", False),
        (f"at least {digits or 2} a week", "sessions a week, or more", False),
    ]
