"""An invented cycle of four weeks for tests and for looking at pages: three runners, what they told, what hurt."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from ferrule.deliver import sample
from ferrule.deliver.review_facts import RunnerReview, SentCopy, review_of
from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, SessionTold, WeekTold
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.programme import Cycle, Programme
from ferrule.model.quantity import Range
from ferrule.model.squad import Anchor, Capacity, FieldTest, Hold, Limit, Runner, Sore, Squad
from ferrule.record.standing import standing

SPAN = Span("squad.csv", 2)
MONDAYS = tuple(sample.MONDAY + timedelta(weeks=n) for n in range(4))
TODAY = MONDAYS[3] + timedelta(days=6)
CYCLE = Cycle("1", "Foundations", 1, 4, (), SPAN, aim="Own the single-leg positions before loading them.")
LATER = Cycle(
    "2", "Loading", 5, 8, (), SPAN, aim="add load where the positions are owned", coach_notes=("for me only",)
)
PROGRAMME = Programme("programme.md", "Fell-ready, first block", 8, Range.of(2), (), (), (CYCLE, LATER))
LIBRARY = sample.library()


def runner(runner_id: str, name: str) -> Runner:
    """A runner who began with the cycle."""
    return Runner(
        runner_id, name, "some", (), (0, 3), (), Anchor("from", MONDAYS[0], SPAN), SPAN,
        races=(date(2026, 3, 22),), tests=(FieldTest("heel raises", 22),),
    )  # fmt: skip


ARLA = replace(
    runner("R07", "Arla T"),
    limits=(
        Limit("calf", "left", "heel-raise-bent-two-legs", date(2026, 3, 12), "physiotherapist", "left calf", SPAN),
    ),
    sore=(Sore("calf", "left", 3, SPAN),),
)
BRAM = runner("R08", "Bram K")
CORA = replace(runner("R09", "Cora L"), holds=(Hold("pregnant", None, None, SPAN),))
SQUAD = Squad("squad.csv", (ARLA, BRAM, CORA))


def _fitted(who: Runner, n: int) -> FittedWeek:
    """Week n + 1 as sent: the load goes up in the third."""
    base = sample.week(who.id, who.name)

    def item(one: FittedItem) -> FittedItem:
        if one.written == "Step-up" and n >= 2 and one.load is not None:
            return replace(one, load=replace(one.load, kg=14.0, pieces=("14 kg kettlebell",)))
        return one

    sessions = tuple(
        replace(
            s,
            uid=f"{who.id}-w{n + 1}-{s.key}".lower(),
            day=s.day + timedelta(weeks=n),
            blocks=tuple(replace(b, items=tuple(map(item, b.items))) for b in s.blocks),
        )
        for s in base.sessions
    )
    return replace(base, monday=MONDAYS[n], programme_week=n + 1, sessions=sessions, finding_week=n == 0)


def copies(who: Runner, weeks: int = 4) -> tuple[SentCopy, ...]:
    """The copies sent to one runner."""
    return tuple(SentCopy(f"{who.id}-copy-{n + 1}", _fitted(who, n)) for n in range(weeks))


def entries() -> tuple[Entry, ...]:
    """What was told, and what the coach decided: those that stand."""
    made: list[Entry] = []

    def tell(who: Runner, fact: Fact) -> None:
        at = datetime(2026, 1, 19, 20, tzinfo=UTC) + timedelta(minutes=len(made))
        made.append(Entry(f"e{len(made):04d}", who.id, at, "page", fact))

    for who in (ARLA, BRAM):
        for n in range(4):
            _week_told(who, n, tell)
    tell(BRAM, WeekTold(MONDAYS[3], "some", "too hard", False, "busy week"))
    tell(BRAM, TimeAway("R08", MONDAYS[3], MONDAYS[3] + timedelta(days=2), "holiday"))
    tell(ARLA, LoggedTest("t1", "R07", MONDAYS[0], "heel raises", 22))
    tell(ARLA, LoggedTest("t2", "R07", MONDAYS[3] + timedelta(days=5), "heel raises", 30))
    tell(ARLA, LoggedTest("t3", "R07", MONDAYS[0], "press-ups", 10))
    tell(ARLA, LoggedTest("t4", "R07", MONDAYS[3] + timedelta(days=5), "press-ups", 14))
    tell(ARLA, Asked(MONDAYS[3] + timedelta(days=4), "can I move Monday to Tuesday?"))
    tell(BRAM, Decided(MONDAYS[2], "1", "C", "progress", "hold", "A. Coach", "he was away the week before"))
    return standing(made)


def _week_told(who: Runner, n: int, tell: object) -> None:
    assert callable(tell)
    copy = f"{who.id}-copy-{n + 1}"
    monday, thursday = MONDAYS[n], MONDAYS[n] + timedelta(days=3)
    if who is BRAM and n == 3:
        return
    ill = who is BRAM and n == 1
    tell(
        who,
        SessionTold(
            monday,
            "1",
            "none" if ill else "did",
            time(18, 40),
            None if ill else 6,
            36,
            "ill" if ill else "",
            copy_id=copy,
        ),
    )
    if not ill:
        load = 14.0 if n >= 2 else 12.0
        for number in (1, 2, 3, 4):
            last = number == 4
            failed = who is BRAM and n == 2 and last
            reserve = Reserve(5 if who is ARLA else 0, None if who is ARLA else 0) if last and not failed else None
            tell(who, LoggedSet(
                f"s{n}{number}", who.id, monday, "1", "A1", "step-up", number, "failed" if failed else "counted",
                asked=5, done=5.0 if failed else 7.0, reserve=reserve, effort_asked=last, load_kg=load, place="chest", copy_id=copy,
            ))  # fmt: skip
        for number in (1, 2, 3):
            stopped = who is ARLA and n >= 2 and number == 3
            tell(who, LoggedSet(
                f"h{n}{number}", who.id, monday, "1", "A2", "heel-raise-bent-one-leg", number,
                "counted" if stopped else "tapped", asked=12, done=6.0 if stopped else None,
                stopped="pain" if stopped else None, side="left" if stopped else "both", copy_id=copy,
            ))  # fmt: skip
    if who is ARLA and n >= 1:
        words = ("", "stiff getting up", "tight from the second round", "same again")[n]
        tell(who, PainTold(monday, "calf", "left", n + 2, n, "1", "A2", "heel-raise-bent-one-leg", words=words))
    if who is ARLA and n == 3:
        tell(who, PainTold(thursday, "calf", "left", 5, None, flags=("calf swelling",), words="warm since yesterday"))
    if n != 2:
        tell(who, SessionTold(thursday, "2", "part" if n else "did", None, 5, None, "time" if n else "", copy_id=copy))


def belief(who: Runner, gain: float, sd: float) -> Capacity:
    """A belief on the groups of the sample, `gain` above nothing, in the log."""
    groups = ("calf bent", "knee and hip", "hinge", "push")
    return Capacity(who.id, dict.fromkeys(groups, gain), dict.fromkeys(groups, sd), dict.fromkeys(groups, ()))  # type: ignore[arg-type]


def review(who: Runner, gain: float = 0.2, sd: float = 0.04) -> RunnerReview:
    """The cycle of one runner whose capacity is believed to have risen by `gain`."""
    told = entries() if who is not CORA else ()
    found = review_of(who, copies(who), told, LIBRARY, belief(who, 0.0, sd), belief(who, gain, sd))
    assert found is not None
    return found
