"""What published programmes have to say, row by row of a survey of 29 sources: every row is read, kept by tidy, shown, and
fitted, or printed as it stands with the form named that is not fitted.

The sources are those of golden/published. Numbers are the survey's rows; the last rows are common practice, no source.
"""

from __future__ import annotations

import html
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta

import pytest

from ferrule.check.run import check
from ferrule.deliver.form_words import form_words
from ferrule.deliver.page import runner_page
from ferrule.deliver.written import written_text, written_week
from ferrule.deliver.written_page import written_page
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, KitItem, Run, Runner
from ferrule.programme.reader import read_programme
from ferrule.programme.tidy import tidy
from ferrule.programme.weeks import week_of

MONDAY, PLACE = date(2026, 1, 5), Span("squad.csv", 2)
KIT = (
    KitItem("mat"), KitItem("chair"), KitItem("bench", height_cm=45), KitItem("box", height_cm=30), KitItem("stair"),
    KitItem("step", height_cm=20), KitItem("step", height_cm=30), KitItem("sofa"), KitItem("doorway bar"),
    KitItem("band", band="thin"), KitItem("band", band="thick"), KitItem("barbell", kg=20), KitItem("plate", 4, kg=10),
    KitItem("plate", 2, kg=5), KitItem("plate", 2, kg=2.5), KitItem("rucksack", up_to_kg=15),
    KitItem("dumbbell", 2, kg=4, up_to_kg=24, step_kg=2), KitItem("kettlebell", kg=16),
)  # fmt: skip
LIBRARY = load_library()[0]
HOUSE = House(changed={"contacts-a-session": 200})


@dataclass(frozen=True, slots=True)
class Row:
    """One construct. says: what tidy and the page must keep; unfitted: forms the fit leaves as written and names."""

    numbers: str
    what: str
    text: str
    says: tuple[str, ...]
    unfitted: tuple[str, ...] = ()
    week: int = 1
    found: tuple[str, ...] = ()
    """Checks that must speak."""
    kept: tuple[str, ...] = ()
    """What tidy keeps and a week that is laid out has instead of it."""


def one(numbers: str, what: str, line: str, *says: str, head: str = "Straight, rest 2 min", unfitted: tuple[str, ...] = (), kept: tuple[str, ...] = ()) -> Row:  # fmt: skip
    """A construct of one line (with those under it)."""
    return Row(numbers, what, f"### Session 1: x\n\n{head}\n\n- {line}\n", says, unfitted, kept=kept)


def heads(numbers: str, what: str, text: str, *says: str, week: int = 1, found: tuple[str, ...] = (), unfitted: tuple[str, ...] = (), kept: tuple[str, ...] = ()) -> Row:  # fmt: skip
    """A construct of heads; the text is whole."""
    return Row(numbers, what, text, says, unfitted, week, found, kept)


SQUATS = "\n\nStraight, 3 sets, rest 2 min\n\n- Squat: 8, 2 RIR\n"
TWO = "\n\nStraight, 3 sets, rest 2 min\n\n- Heel raise, one leg: 10/side\n"

REPS = (
    one("1", "fixed sets and repetitions", "Squat: 4 x 4", "4 x 4"),
    one("2", "a range of repetitions", "Squat: 3 x 8-12", "3 x 8-12"),
    one("3", "a range of sets", "Squat: 3-5 x 3-5", "3-5 x 3-5"),
    one("4", "neither said", "Hop on the spot: as the therapist says", "as the coach says", unfitted=("as the coach says",)),
    one("5", "a number for each set", "Squat: sets 12, 10, 8", "sets 12, 10, 8"),
    one("6", "up to", "Squat: up to 10", "up to 10"),
    one("7", "at least, then to failure", "Heel raise, one leg: 8+ to failure, 8RM", "at least 8, 8RM, to failure", unfitted=("to failure",)),
    one("8", "to failure", "Squat: 3-5 x to failure", "3-5 x max"),
    one("9", "as many sets as possible", "Heel raise, one leg: 8/side, as many sets as possible", "max sets", unfitted=("max sets",)),
    one("10", "as many as possible in a time", "Squat: AMRAP in 40 s", "max in 40 s"),
    one("11", "each side", "Split squat: 3 x 10 each side", "3 x 10/side"),
    one("12, 40", "one side lowers, the other lifts", "Heel drop: 3 x 15, bad leg only, eccentric only, other leg lifts", "sore side only", "lowering only", "other leg lifts", unfitted=("sore side only", "lowering only", "other leg lifts")),
    one("13", "a hold", "Front plank: 4 x 20 s", "4 x 20 s"),
    one("14", "repetitions with a hold", "Heel raise, two legs: 3 x 10, hold 5 s", "3 x 10, pause 5 s"),
    one("15", "timed bouts", "Skip, low: 5 x 10 s on, 50 s off", "5 x work 10 s, rest 50 s", head="Straight"),
    one("16", "a distance", "Carry, both hands: 3 x 30 m, 16 kg each hand", "3 x 30 m"),
    one("16", "pieces of a distance, by speed", "A-skip: 5 runs of 80 m, 50-60 % pace", "5 reps of 80 m", "50-60 % top speed", unfitted=("5 reps of 80 m",)),
    one("17", "contacts of a line", "Skip, low: 60 contacts", "60 contacts"),
    one("17", "contacts that take their own time each", "Springy run on the spot: 6 x 30 contacts", "6 x 30 contacts"),
    heads("17", "contacts of a session, and its most", "### Session 1, from 60 contacts: x\n\nStraight, 2 sets\n\n- Skip, low: 30 contacts\n", "from 60 contacts"),
    heads("18", "contractions of the whole block", "### Session 1: x\n\nStraight, 30-200 contractions in all\n\n- Squat: 5 x 10\n", "30-200 reps in all"),
    one("19, 31", "lead-in and a flywheel", "Squat: 4 x 7, 2 lead-in, inertia 0.06 kg m2", "2 lead-in", "inertia 0.06 kg m2", unfitted=("2 lead-in", "inertia 0.06 kg m2")),
    heads("20", "the number of exercises is part of the dose", "## Cycle 1, weeks 1-2: x\n\n### Session 1: x\n\nCircuit, 2 rounds, 2 exercises\n\n- Squat: 8\n- Press-up: 8\n- Front plank: 20 s\n\n| week | 1 | 2 |\n|---|---|---|\n| exercises |  | 3 |\n", "3 exercises", week=2),
)  # fmt: skip
LOADS = (
    one("21", "a repetition maximum", "Squat: 4 x 4, at 4RM", "4 x 4, 4RM"),
    one("21", "a range of it", "Squat: 3 x 8-10, 8-10RM", "8-10RM"),
    one("22", "fewer than the maximum", "Squat: 8 at 15RM", "8, 15RM"),
    one("23", "a percentage", "Squat: 5, 80-85% 1RM", "80-85 % 1RM"),
    one("23", "more than a percentage", "Squat: 5, >90% 1RM", "at least 90 % 1RM"),
    one("23", "about a percentage", "Squat: 12, about 70% of 1RM", "about 70 % 1RM"),
    heads("24", "percent points by block", "## Cycle 1, weeks 1-3: x\n\n### Session 1: x\n\nStraight, 3 sets, rest 60 s\n\n- Squat: 12, 20 % 1RM\n\n| week | 1 | 2 | 3 |\n|---|---|---|---|\n| Squat: percent |  | 25 % 1RM | 30 % 1RM |\n", "30 % 1RM", week=3),
    one("25", "a percentage of the best force", "Front plank: 4 x 20 s, 80% MVC", "80 % max force"),
    one("26", "a step in kilograms, to a most", "Squat: 8, 10 kg, add 5 kg per week, up to 60 kg", "8, 10 kg", kept=("add 5 kg a week, to 60 kg",)),
    one("27", "a step in per cent", "Squat: 8, add 2-10 %", "add 2-10 %", unfitted=("add 2-10 %",)),
    one("28", "effort both ways", "Squat: 5, RPE 8, 2 in reserve", "RPE 8"),
    one("28, 101", "effort both ways, no mirror image", "Squat: 12-15, 5-6 RIR, RPE 5-6", "5-6 RIR, RPE 5-6", unfitted=("RPE 5-6",)),
    one("29", "effort in words", "Squat: 8, technique weight", "technique weight", unfitted=("technique weight",)),
    one("29", "the last one hard", "Squat: 8, last rep hard", "last rep hard", unfitted=("last rep hard",)),
    one("30, 84", "bands in their order", "Towel row: 10, thin band\n  when 18 reps: next band", "thin band", "when 18 reps: next band"),
    one("32", "a household load", "Heel raise, one leg: 8/side, books in a backpack", "with rucksack", unfitted=("with rucksack",)),
    one("33, 90, 96", "harder by support: alternatives in order", "Heel raise, one leg: 12/side\n  - or Heel raise, two legs: 15", "or Heel raise, two legs"),
    one("34", "a height", "Box jump: 5, 0.3 m box", "30 cm box", unfitted=("30 cm box",)),
    one("35", "heart rate", "Skip, low: 40 s on, above 80 % of max HR", "at least 80 % HRmax", unfitted=("at least 80 % HRmax",)),
    one("36", "all one can", "Squat jump: 5, as high as possible", "as high as possible", unfitted=("as high as possible",)),
    one("37, 43, 102", "load and rest not stated", "Squat: 3 x 8", "3 x 8", head="Straight"),
)  # fmt: skip
TEMPO_REST = (
    one("38", "seconds in each phase", "Heel raise, two legs: 10, 3 s up, 5 s down", "tempo 5-0-3"),
    one("38", "a pause at the top", "Heel raise, two legs: 8, tempo 3-0-2-2", "tempo 3-0-2-2"),
    one("39", "fast up", "Squat: 4, tempo 2-0-x", "tempo 2-0-x"),
    one("39", "fast up in words", "Squat: 4, 2-3 s down, explosive up", "2-3 s down, fast up", unfitted=("fast up",)),
    heads("41", "one exercise breaks the tempo of all", "### Session 1: x\n\nCircuit, 2 rounds, tempo 2-0-2\n\n- Squat: 8\n- Press-up: 8, tempo 3-0-1\n", "tempo 2-0-2", "tempo 3-0-1"),
    one("42", "tempo in words", "Heel drop: 15, the slower the better", "15, as slow as possible", unfitted=("as slow as possible",)),
    one("43", "a range of rests", "Squat: 4, rest 120-180 s", "rest 2-3 min", head="Straight, 3 sets"),
    heads("44", "rest between exercises", "### Session 1: x\n\nStraight, 3 sets, rest 2-3 min, between 5 min\n\n- Squat: 5\n- Heel raise, two legs: 12\n", "between 5 min, rest 2-3 min"),
    heads("45, 50", "rest inside a pair; a heavy lift and a jump", "### Session 1: x\n\nPair, 3 rounds, between 4 min, rest 4 min\n\n- Squat: 5\n- Squat jump: 6\n", "between 4 min", "rest 4 min"),
    heads("46, 51", "none between stations", "### Session 1: x\n\nCircuit, 3 rounds, between 0 s, rest 60 s\n\n- Squat: 8\n- Press-up: 8\n", "between 0 s", "rest 60 s"),
    heads("47, 81", "rest falls by the week while bouts rise", "## Cycle 1, weeks 1-2: x\n\n### Session 1: x\n\nStraight, rest 50 s\n\n- Skip, low: 5 x work 10 s\n\n| week | 1 | 2 |\n|---|---|---|\n| rest |  | 40 s |\n| Skip, low: sets |  | 6 |\n", "6 x work 10 s", "rest 40 s", week=2),
    one("48", "a recovery that is an action", "A-skip: 3 x 20 m, walk back to the start", "walk back", unfitted=("walk back",)),
)  # fmt: skip
INSIDE = (
    heads("49", "named blocks in their order", "### Session 1: x\n\nStraight, 2 sets: Jumps\n\n- Squat jump: 5\n\nStraight, 3 sets, rest 2 min: Lifts\n\n- Squat: 5\n", "Straight, 2 sets: Jumps", "rest 2 min: Lifts"),
    heads("52", "stations by the clock", "### Session 1: x\n\nCircuit, 4 rounds, 40 s on, 20 s off: Stations\n\n- Squat: max\n- Press-up: max\n", "40 s on, 20 s off"),
    heads("53", "two exercises in turn for a time", "### Session 1: x\n\nPair, 12 min\n\n- A-skip: 100 m\n- Squat: 10\n", "12 min"),
    one("54", "short rests inside the set", "Squat: 6, 6RM, rest pause 20 s twice", "rest-pause 20 s x 2", unfitted=("rest-pause 20 s x 2",)),
    one("55", "a cluster", "Squat: 3 x 4+4+4, 30 s between parts", "4+4+4, part rest 30 s", unfitted=("4+4+4",)),
    heads("56", "one of several sessions", f"### Session 2, choose one of 2A, 2B: hard day\n\n### Session 2A: squats{SQUATS}\n### Session 2B: calf{TWO}", "Or one of these instead: 2B calf", kept=("choose one of 2A, 2B",)),
    one("56", "one of several exercises", "Squat or split squat: 8/side", "runner picks"),
    heads("57, 95", "levels of a session", f"### Session 1, level beginner: x{SQUATS}\n### Session 1, level advanced: x{TWO}", "level beginner"),
    one("58", "a rule of order, in words", "Squat: 8\n  note: Big muscles before small ones.", "Big muscles before small ones."),
    heads("59", "the time of a session", f"### Session 1: x, 20-30 min\n\nWarm-up, 10 min: Easy jog{SQUATS}\nCool-down, 5 min\n", "20-30 min", "Warm-up, 10 min: Easy jog", "Cool-down, 5 min"),
    heads("60", "one arm of several, named in the title", f"---\nprogramme: Complex, arm 1 of 3\nweeks: 1\n---\n\n### Session 1: x{SQUATS}", "Complex, arm 1 of 3"),
    heads("61", "beside the run of the day", f"### Session 1, after the morning run: x{SQUATS}", "after the run"),
)  # fmt: skip
WEEKS = (
    heads("62, 63", "only what changes", "## Cycle 1, weeks 1-4: x\n\n### Session 1: x\n\nStraight, 2 sets, rest 2 min\n\n- Squat: 10, 10RM\n\n| week | 1 | 2 | 3 | 4 |\n|---|---|---|---|---|\n| sets |  |  | 3 | 3 |\n| Squat: reps |  |  | 8 | 8 |\n| Squat: RM |  |  | 8 | 8 |\n", "Straight, 3 sets", "8, 8RM", week=4),
    heads("64", "two days, same exercises", "### Session 1: A\n\nStraight, 3 sets, rest 2 min\n\n- Squat: 10, 10RM\n\n### Session 2: B\n\nStraight, 3 sets, rest 2 min\n\n- Squat: 6, 6RM\n", "10, 10RM", "6, 6RM"),
    heads("65", "sessions with their own counts", f"### Session 1, 2 a week: gym{SQUATS}\n### Session 2, 1 a week: grass{TWO}", "Session 1, 2 a week: gym", "Session 2, 1 a week: grass"),
    heads("66", "how often changes", f"## Cycle 1, week 1, 1 a week\n\n### Session 1: x{SQUATS}\n## Cycle 2, weeks 2-3, 2 a week\n\n### Session 1, as session 1 of cycle 1\n", "as session 1 of cycle 1", week=2, kept=("2 a week",)),
    heads("67", "a range or a least", f"### Session 1, at least 2x per week: x{SQUATS}", "at least 2 a week"),
    heads("67", "a range", f"### Session 1, 2-3 a week: x{SQUATS}", "2-3 a week"),
    heads("68", "twice a day, every day", "### Session 1, daily, morning and evening: x\n\nStraight, 3 sets, rest 60 s\n\n- Heel raise, two legs: 15\n", "twice a day, every day"),
    heads("68", "two sessions on one day", f"### Session 1, Mon, morning, 6 h apart: x{SQUATS}\n### Session 2, Mon, evening: y{TWO}", "day 1, 6 h apart, morning", "day 1, evening"),
    heads("69", "every second day", f"### Session 1, every other day, 48 h apart: x{SQUATS}", "every second day, 48 h apart"),
    one("70", "load on some days", "Heel raise, two legs: 15, loaded on 2-3 days a week", "load on 2-3 days a week", unfitted=("load on 2-3 days a week",)),
    heads("71", "an exercise swapped by block", f"## Cycle 1, week 1: x\n\n### Session 1: x{SQUATS}\n## Cycle 2, week 2: x\n\n### Session 1: x{TWO}", "Heel raise, one leg", week=2),
    heads("72", "an exercise joins late", "## Cycle 1, weeks 1-6: x\n\n### Session 1: x\n\nStraight, 2 sets\n\n- Squat: 8\n- Hop on the spot: 10/side, from week 5\n", "Hop on the spot: 10/side", week=5),
    heads("73", "a cycle that repeats", f"## Cycle 1, weeks 1-3, repeated until week 9: x\n\n### Session 1: x{SQUATS}", "Squat", week=8),
    heads("74, 100", "phases that overlap and have no end", f"## Cycle 1, weeks 1-3, overlapping: x\n\n### Session 1: x{SQUATS}\n## Cycle 2, from week 3 on, overlapping: y\n\n### Session 1: y{TWO}", "Squat", week=3),
    heads("75", "a start that depends on the person", f"## Cycle 1, weeks 1-3: x\n\n### Session 1: x{SQUATS}\n## Cycle 2, weeks 4-6, starts in week 3-5: y\n\n### Session 1: y{TWO}", "Heel raise", week=4),
    heads("76", "a dose to keep it", f"## Cycle 1, week 1: x\n\n### Session 1: x{SQUATS}\n## Cycle 2, from week 2 on: Maintenance\n\n### Session 1, 1 a week, as session 1 of cycle 1\n", "1 a week", week=40),
    heads("77", "counted in sessions", f"---\nprogramme: x\nsessions: 2 a week\n---\n\n## Cycle 1, sessions 1-4: x\n\n### Session 1: x{SQUATS}\n## Cycle 2, sessions 5-8: y\n\n### Session 1: y{TWO}", "Heel raise", week=3),
    heads("78", "a second track", f"### Session 1, every day: calf{TWO}\n### Session 2, 2 a week, weeks 1-3: back to running\n\nStraight, 2 sets, rest 2 min\n\n- A-skip: 30 m\n", "Session 2, 2 a week, weeks 1-3: back to running"),
    heads("79", "the running beside it, in words", f"### Session 1: x\n\nRun 40 per cent less in these weeks.{SQUATS}", "Run 40 per cent less"),
    heads("80", "supervised and alone", f"### Session 1, 1 a week, supervised: x{SQUATS}\n### Session 2, 2 a week, unsupervised: y{TWO}", "supervised", "on your own"),
)  # fmt: skip
CONDITIONS = (
    one("82", "a step when the target is beaten", "Squat: 4, 4RM\n  when 5 reps: add 2.5 kg", "when 5 reps: add 2.5 kg"),
    one("83", "twice in a row", "Squat: 8, 12 kg\n  when 1-2 reps over for 2 sessions: add 2-10 %", "when 1-2 reps over for 2 sessions: add 2-10 %"),
    one("85", "when the form is good", "Squat: 8\n  when technique good: add load", "when technique good: add load"),
    one("86", "pain gates", "Heel drop: 15\n  if pain above 5 during: stop\n  if pain worse next morning: easier\n  when pain gone by morning: go on", "if pain above 5 during: stop", "if pain worse next morning: easier", "when pain gone by morning: go on"),
    one("87", "easier with pain", "Side plank: 20 s/side\n  if pain above 3: easier", "if pain above 3: easier"),
    one("88", "a fallback", "Heel drop: 15\n  if a week missed: repeat the week", "if a week missed: repeat the week"),
    one("89", "a test before the start", "Hop on the spot: 10/side\n  when pain at most 2 on hopping: start", "when pain at most 2 on hopping: start"),
    one("91", "a most for the week", "A-skip: 30 m\n  limit: 20 % more a week", "limit: 20 % more a week"),
    one("92", "a stop rule in words", "Squat: 8\n  note: Chest pain: stop and get help.", "Chest pain: stop and get help."),
    one("93", "help on the last one", "Squat: 4, 4RM, help on the last rep", "helper on the last rep", unfitted=("helper on the last rep",)),
    one("94", "a partner; the clinic", "Kneeling body lower: 5, with a partner, clinic only", "with a partner", "clinic only", unfitted=("with a partner", "clinic only")),
)  # fmt: skip
TROUBLE = (
    heads("97", "a stated total that does not fit", "---\nprogramme: Five\nweeks: 1\n---\n\nFive minutes every day.\n\n### Session 1, every day: x\n\nStraight, 32 sets, no rest\n\n- Skip, low: work 10 s\n", "Five minutes every day.", found=("stated-totals",)),
    heads("98", "a stated total that fits", f"---\nprogramme: Six\nweeks: 3\nsessions: 2 a week\n---\n\n6 sessions in all.\n\n### Session 1, 2 a week: x{SQUATS}", "6 sessions in all."),
    heads("99", "two lengths", f"---\nprogramme: Eight weeks of squats\nweeks: 6\n---\n\n## Cycle 1, weeks 1-6: x\n\n### Session 1: x{SQUATS}", "Eight weeks of squats", found=("stated-weeks",)),
    one("103", "digits of a tempo, each phase named", "Squat: 8, 3 s down, 1 s up", "tempo 3-0-1"),
)  # fmt: skip
COMMON = (
    one("104", "a drop set", "Squat: 8, 2 RIR, drop set 8", "drop 8", unfitted=("drop 8",)),
    one("105", "a pyramid", "Squat: sets 12, 10, 8, loads 40/45/50 kg", "loads 40, 45, 50 kg", unfitted=("loads 40, 45, 50 kg",)),
    one("106", "percent of body mass", "Squat: 8, 20% body weight", "20 % body mass"),
    heads("107", "two opposite muscles in turn", "### Session 1: x\n\nPair, 3 rounds, rest 60 s\n\n- Press-up: 8\n- Towel row: 8\n", "Pair"),
)  # fmt: skip
ROWS = (*REPS, *LOADS, *TEMPO_REST, *INSIDE, *WEEKS, *CONDITIONS, *TROUBLE, *COMMON)


def read(row: Row) -> Programme:
    programme, findings = read_programme(row.text, "p.md", LIBRARY)
    assert [str(f.what) for f in findings if f.level == "error"] == []
    return programme


def runner() -> Runner:
    return Runner(
        "R01", "Ana T", "strong", KIT, tuple(range(7)), (Run(1, "easy", time(7)),), Anchor("from", MONDAY, PLACE),
        PLACE, birth_year=1992, sex="male", mass_kg=70.0,
    )  # fmt: skip


def plain(page: str) -> str:
    return " ".join(html.unescape(page).split())


def fitted(row: Row) -> tuple[FittedWeek, Programme]:
    programme, who = read(row), runner()
    monday = MONDAY + timedelta(weeks=row.week - 1)
    outcome = fit_runner(programme, who, LIBRARY, HOUSE, monday)
    assert isinstance(outcome, FittedWeek), outcome
    assert verify(outcome, programme, who, LIBRARY, HOUSE, capacity_of(who, monday)) == ()
    return outcome, programme


def items(week: FittedWeek) -> Iterator[FittedItem]:
    yield from (i for s in week.sessions for b in s.blocks for i in b.items)


every = pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.numbers} {r.what}")


def test_every_row_of_the_survey_is_here() -> None:
    numbers = {int(n) for r in ROWS for n in r.numbers.split(",")}
    assert numbers == set(range(1, 108))


@every
def test_it_is_tidied_once_for_all(row: Row) -> None:
    once, findings = tidy(row.text, "p.md", LIBRARY)
    assert not [f.what for f in findings if f.level == "error"]
    assert tidy(once, "p.md", LIBRARY)[0] == once
    shown = lines_of(row)
    for said in row.says:
        assert said in once or said in shown, said
    for said in row.kept:
        assert said in once, said


def lines_of(row: Row) -> str:
    programme = read(row)
    week = week_of(programme, row.week)
    assert week is not None
    return written_text(written_week(programme, week, LIBRARY))


@every
def test_it_is_shown_as_text_and_as_a_page(row: Row) -> None:
    programme = read(row)
    week = week_of(programme, row.week)
    assert week is not None
    text, page = plain(lines_of(row)), plain(written_page(programme, week, LIBRARY))
    for said in row.says:
        assert said in text, said
        assert said in page, said


@every
def test_it_is_fitted_or_what_is_not_fitted_is_named(row: Row) -> None:
    week, _ = fitted(row)
    told = "; ".join(r.text for i in items(week) for r in i.reasons if r.code == "not fitted")
    page = plain(runner_page(week, LIBRARY, HOUSE, draft=True))
    for form in row.unfitted:
        assert form in told, (form, told)
        assert form_words(form).lower() in page.lower(), form
    assert bool(told) == bool(row.unfitted), told
    assert all(html.unescape(i.name) in page for i in items(week))


def test_two_sessions_of_one_day_are_laid_on_it_with_their_hours() -> None:
    row = next(r for r in ROWS if r.what == "two sessions on one day")
    first, second = fitted(row)[0].sessions
    assert first.day == second.day == MONDAY
    assert first.start is not None
    assert second.start is not None
    assert second.start.hour - first.start.hour >= 6


@every
def test_checks_speak_where_they_must(row: Row) -> None:
    codes = {f.code for f in check(read(row), LIBRARY, HOUSE)}
    assert set(row.found) <= codes
    assert row.found or not {"stated-totals", "stated-weeks"} & codes
