"""The sheet: one runner's week on paper, tagged PDF (PDF/UA-1), byte for byte the same for the same week."""

from __future__ import annotations

import json
import math
import re
import unicodedata
from functools import lru_cache
from importlib.resources import files
from typing import Any

import typst

from ferrule.deliver import amounts, cautions
from ferrule.deliver.block_words import block_notes, block_rest, block_title, counted_by_block
from ferrule.deliver.contact import reach
from ferrule.deliver.figures import HEIGHT_PX, drawing
from ferrule.deliver.plain import clean, lowered, sentence
from ferrule.deliver.repeats import dayless, repeated, when_words
from ferrule.deliver.session_words import fetch_words, short_of_time
from ferrule.deliver.wording import item_words, sides_words
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT

MOST_WIDE_MM, MOST_HIGH_MM = 28.0, 17.0
WARM_WIDE_MM, WARM_HIGH_MM = 25.0, 11.0
MOST_COLUMNS, COLUMN_LETTERS = 6, 40
PAPER_CUES = 2
CIRCLE = "How many more good ones had you after the last set? Circle it where a line asks; ? is: don't know."
SIDES = "Each side: first all of it on the left, then all of it on the right."
_LOST = re.compile(r"the text `\"(.+?)\"` could not be displayed", re.DOTALL)
_BOX = "\u25a1"


class SheetError(RuntimeError):
    """The sheet's own template failed or warned: a fault of the program, never of the week."""


@lru_cache(maxsize=1)
def _compiler() -> typst.Compiler:
    """One compiler a process; only the fonts inside the wheel, so every machine sets the same page."""
    template = str(files("ferrule.deliver").joinpath("sheet.typ"))
    return typst.Compiler(template, font_paths=typst.Fonts(include_system_fonts=False))


def sheet_pdf(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str = "") -> bytes:
    """The week as PDF/UA-1 on A4. Characters that the fonts lack are printed as boxes, and the sheet says so.

    Raises SheetError when the template warns or fails.
    """
    data = json.dumps(
        sheet_data(week, library, house, draft=draft, copy_id=copy_id), ensure_ascii=False, sort_keys=True
    )
    lost = False
    while True:
        try:
            pdf, warnings = _compiler().compile_with_warnings(sys_inputs={"data": data}, pdf_standards=["ua-1"])
        except typst.TypstError as error:
            missing = _LOST.search(str(error))
            swapped = data if missing is None else _without(data, missing.group(1))
            if swapped == data:
                raise SheetError(str(error)) from error
            data, lost = swapped, True
            continue
        if warnings:
            raise SheetError("; ".join(str(w) for w in warnings))
        if not isinstance(pdf, bytes):
            raise SheetError("the compiler gave no single file")
        if lost and '"lost": ""' in data:
            data = data.replace('"lost": ""', '"lost": "A box stands for a letter this paper cannot show."')
            continue
        return pdf


def _without(data: str, missing: str) -> str:
    """`data` with every letter of `missing`, and all letters of the same script, as a box."""
    scripts = {_script(c) for c in missing if ord(c) > 127}
    return "".join(_BOX if ord(c) > 127 and c != _BOX and _script(c) in scripts else c for c in data)


def _script(char: str) -> str:
    """The first word of a letter's name ("CJK", "HIRAGANA"); symbols are each their own."""
    name = unicodedata.name(char, char)
    return name.split()[0] if unicodedata.category(char)[0] == "L" else name


def sheet_data(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str) -> dict[str, Any]:
    """What the template is given: strings, numbers and drawings only, every text cleaned."""
    name = clean(week.runner_name)
    programme = clean(week.programme)
    when = f"Week of {amounts.day(week.monday)} {week.monday.year}"
    foot = [name, f"week of {amounts.short_date(week.monday)}"] + ([f"copy {clean(copy_id)}"] if copy_id else [])
    said = [s for s in map(sentence, (week.aim, *week.notes)) if s]
    strong = [s for s in map(sentence, week.conditions) if s]
    after = [cautions.FINDING_WEEK] if week.finding_week else []
    after += [f"{d.said}: no day this week." for d in dayless(week.rest_sessions)]
    return {
        "title": f"{name}: {programme}, week {week.programme_week}",
        "author": clean(house.coach),
        "mark": cautions.DRAFT_MARK if draft else "",
        "draft": cautions.DRAFT if draft else "",
        "foot": ", ".join(foot),
        "page": "page",
        "of": "of",
        "name": name,
        "programme": f"{programme}, week {week.programme_week}" + _tail(clean(week.cycle_name)),
        "week": f"{when}, {clean(week.runner_id)}",
        "lead": [{"text": s, "strong": s in strong} for s in (*said, *strong, *after)],
        "reading": _reading(week),
        "cautions": [s for s in map(sentence, week.cautions) if s],
        "sessions": _sessions(week.sessions, library),
        "flags": {
            "head": cautions.RED_FLAG_HEAD,
            "list": "; ".join(cautions.RED_FLAGS) + ".",
            "tail": cautions.RED_FLAG_TAIL,
        },
        "pain": {"head": "Any other pain", "lines": list(cautions.pain_rule(house))},
        "usual": {"head": "Every time", "lines": list(cautions.USUAL)},
        "contact": reach(house),
        "purpose": cautions.PURPOSE,
        "lost": "",
    }


def _reading(week: FittedWeek) -> list[str]:
    """How to read the lines: said once, and only where some line needs it."""
    items = [i for s in week.sessions for b in s.blocks for i in b.items]
    sides = [SIDES] if any(sides_words(i) and not i.side_rest_s for i in items) else []
    return sides + ([CIRCLE] if any(i.ask_effort for i in items) else [])


def _tail(text: str) -> str:
    return f": {text}" if text else ""


def _sessions(sessions: tuple[FittedSession, ...], library: Library) -> list[dict[str, Any]]:
    """The sessions, each once with all its days; a warm-up already printed in full above is given again in one line,
    without pictures."""
    first: dict[tuple[FittedItem, ...], str] = {}
    made: list[dict[str, Any]] = []
    for told in repeated(sessions):
        session, title = told.first, told.title
        made.append(
            {
                "title": title,
                "when": when_words(told),
                "fetch": fetch_words(session),
                "short": short_of_time(session),
                "notes": [s for s in map(sentence, session.notes) if s],
                "blocks": [_block(b, library, first) for b in session.blocks],
            }
        )
        for block in session.blocks:
            if block.kind in LIGHT:
                first.setdefault(block.items, title.split(":")[0])
    return made


def _block(block: FittedBlock, library: Library, first: dict[tuple[FittedItem, ...], str]) -> dict[str, Any]:
    exercises = [_exercise(i, block, library) for i in block.items]
    where = first.get(block.items, "")
    again = "; ".join(f"{e['name']}, {lowered(e['dose']).rstrip('.')}" for e in exercises)
    return {
        "title": block_title(block),
        "rest": block_rest(block),
        "warm": block.kind in LIGHT,
        "notes": list(block_notes(block)),
        "same": f"As in {where[0].lower()}{where[1:]}: {again}." if where else "",
        "exercises": [] if where else exercises,
        "columns": _columns(exercises),
    }


def _columns(exercises: list[dict[str, Any]]) -> list[float]:
    """Shares of the width for the columns of a warm-up: wider where there is more to read, at least four columns."""
    if len(exercises) > MOST_COLUMNS:
        return [1.0] * math.ceil(len(exercises) / 2)
    long = [sum(len(t) for t in (e["name"], e["load"], e["dose"], e["how"], *e["notes"])) for e in exercises]
    shares = [round(min(1.6, max(1.0, n / COLUMN_LETTERS)), 2) for n in long]
    return shares + [1.0] * (4 - len(shares))


def _exercise(item: FittedItem, block: FittedBlock, library: Library) -> dict[str, Any]:
    variant = library.variants.get(item.variant_id)
    words = item_words(item, block, variant)
    warm = block.kind in LIGHT
    drawn = drawing(variant, item.load.place if item.load else None)
    figure = None
    if drawn is not None:
        wide, high = (WARM_WIDE_MM, WARM_HIGH_MM) if warm else (MOST_WIDE_MM, MOST_HIGH_MM)
        scale = min(wide / drawn.width, high / drawn.height, high / HEIGHT_PX)
        figure = {
            "svg": drawn.svg,
            "alt": drawn.alt,
            "width_mm": round(drawn.width * scale, 2),
            "height_mm": round(drawn.height * scale, 2),
        }
    dangers = () if variant is None else tuple(sentence(c) for c in variant.cautions)
    return {
        "key": words.key,
        "name": words.name,
        "load": words.load,
        "optional": words.optional,
        "may_go": "(if there is time)",
        "dose": " ".join(
            s for s in (sentence(words.each if counted_by_block(item, block) else words.dose), words.forms) if s
        ),
        "how": sentence(", ".join(h for h in words.how if item.side_rest_s or h != sides_words(item))),
        "notes": [*words.notes, *dangers, *([words.rest] if words.rest else [])],
        "cues": "" if warm else " ".join(words.cues[:PAPER_CUES]),
        "ask": _ask(words.ask, item),
        "ways": [w for w in (words.too_hard, words.too_easy) if w],
        "figure": figure,
    }


def _ask(said: str, item: FittedItem) -> str:
    """The question short enough to circle the answer on its line."""
    if not said:
        return ""
    return "How many more seconds?  . . . . ." if item.hold_s is not None else "How many more?   0   1   2   3   4+   ?"
