"""Invented entries for the property tests: few ids, days and keys, so that they meet."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from uuid import UUID

from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold

MONDAY = date(2026, 1, 19)
IDS = tuple(str(UUID(int=n << 80 | 7 << 76 | 2 << 62)) for n in range(1, 9))
RUNNERS = ("R01", "R02")

days = st.integers(0, 9).map(lambda n: MONDAY + timedelta(days=n))
moments = st.integers(0, 5).map(lambda n: datetime(2026, 1, 20, 18, n, tzinfo=UTC))


def facts(runner_id: str) -> st.SearchStrategy[Fact]:
    """Facts of every kind a runner tells."""
    return st.one_of(
        st.builds(
            LoggedSet,
            entry_id=st.just(""),
            runner_id=st.just(runner_id),
            day=days,
            session_key=st.sampled_from(("1", "2")),
            item_key=st.sampled_from(("", "c1/s1/b1/i1")),
            variant_id=st.just("step-up"),
            number=st.integers(1, 2),
            outcome=st.sampled_from(("tapped", "counted", "failed")),
            done=st.sampled_from((None, 6.0, 8.0)),
            reserve=st.sampled_from((None, Reserve(2, 2), Reserve(4, None))),
            side=st.sampled_from(("both", "left", "right")),
        ),
        st.builds(
            SessionTold,
            day=days,
            session_key=st.sampled_from(("1", "2")),
            outcome=st.sampled_from(("did", "none")),
            rating=st.sampled_from((None, 5)),
        ),
        st.builds(
            WeekTold, st.just(MONDAY), st.sampled_from(("all", "none")), st.sampled_from((None, "right")), st.none()
        ),
        st.builds(PainTold, days, st.just("calf"), st.just("left"), st.integers(2, 4)),
        st.builds(
            LoggedTest, st.just(""), st.just(runner_id), days, st.just("press-ups"), st.sampled_from((9.0, 11.0))
        ),
        st.builds(RunTold, days, st.sampled_from((8.0, 8.04, 12.0)), st.none()),
        st.builds(Asked, days, st.just("Something has changed.")),
        st.builds(TimeAway, st.just(runner_id), st.just(MONDAY), days, st.just("holiday")),
        st.builds(TakenBack),
    )


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    """One entry; few ids, so that corrections, circles and two contents of one id come up."""
    runner_id = draw(st.sampled_from(RUNNERS))
    return Entry(
        entry_id=draw(st.sampled_from(IDS)),
        runner_id=runner_id,
        recorded_at=draw(moments),
        source=draw(st.sampled_from(("page", "typed"))),
        fact=draw(facts(runner_id)),
        replaces=draw(st.sampled_from(("", "", "", *IDS))),
    )
