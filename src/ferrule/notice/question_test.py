"""Questions wait until they are answered; illness waits for a way back."""

from __future__ import annotations

from datetime import timedelta

from ferrule.model.entry import TimeAway
from ferrule.model.fact import Asked, Entry
from ferrule.model.house import House
from ferrule.notice.due import due
from ferrule.notice.sample import MONDAY, entry, runner, squad
from ferrule.notice.told import Due


def rows(*entries: Entry, later: int = 3) -> list[Due]:
    return list(due(squad(runner("R01")), (), entries, House(), MONDAY + timedelta(days=later)))


def test_a_question_waits_for_years_and_needs_no_reason() -> None:
    asked = entry("R01", Asked(MONDAY, ""))
    found = rows(asked, later=900)
    assert [r.tier for r in found] == ["question"]
    assert "no reason given" in found[0].facts[0]
    assert found[0].minutes == House().value("word-question-min")


def test_an_answer_that_names_it_or_replaces_it_drops_it() -> None:
    asked = entry("R01", Asked(MONDAY, "may I swim?"))
    naming = entry("R01", Asked(MONDAY, "yes", asked.entry_id, "Coach A"), source="coach")
    replacing = entry("R01", Asked(MONDAY, "may I swim?", "yes", "Coach A"), source="coach", replaces=asked.entry_id)
    assert not rows(asked, naming)
    assert not rows(naming, asked)
    assert not rows(asked, replacing)
    another = entry("R01", Asked(MONDAY + timedelta(days=1), "and cycle?"))
    assert [r.since for r in rows(asked, naming, another)] == [another.fact.day]  # type: ignore[union-attr]


def test_the_answer_to_another_runner_answers_nothing() -> None:
    asked = entry("R01", Asked(MONDAY, "may I swim?"))
    naming = entry("R02", Asked(MONDAY, "yes", asked.entry_id, "Coach A"), source="coach")
    assert [r.runner_id for r in rows(asked, naming)] == ["R01"]


def test_several_questions_are_one_row_oldest_first() -> None:
    late, early = entry("R01", Asked(MONDAY + timedelta(days=2), "b")), entry("R01", Asked(MONDAY, "a"))
    found = rows(late, early)
    assert len(found) == 1
    assert found[0].since == MONDAY
    assert found[0].keys == (early.entry_id, late.entry_id)


def test_illness_waits_for_the_way_back_the_coach_sets() -> None:
    ill = TimeAway("R01", MONDAY, MONDAY + timedelta(days=4), "illness")
    told = entry("R01", ill)
    assert "the way back is not set" in rows(told)[0].facts[0]
    ramp = TimeAway("R01", ill.first, ill.last, "illness", None, (0.6, 0.8), "Coach A")
    assert not rows(told, entry("R01", ramp, source="coach", replaces=told.entry_id))
    assert not rows(told, entry("R01", ramp, source="coach")), "told again by the coach with a way back"
    assert not rows(entry("R01", TimeAway("R01", MONDAY, MONDAY, "holiday")))


def test_somebody_who_left_the_squad_list_is_still_heard() -> None:
    found = due(squad(runner("R01")), (), [entry("R77", Asked(MONDAY, "hello?"))], House(), MONDAY)
    assert [(r.runner_id, r.runner_name) for r in found] == [("R77", "R77")]
