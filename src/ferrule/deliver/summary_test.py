"""What the coach reads before signing, as a page and as a table."""

import re
from collections.abc import Callable
from dataclasses import fields, replace

from ferrule.deliver import sample, sample_many
from ferrule.deliver.html import part
from ferrule.deliver.page_test import read, text_of
from ferrule.deliver.plain import clean, width
from ferrule.deliver.readback import Moved, moved
from ferrule.deliver.repeats import repeated
from ferrule.deliver.score import alt_of
from ferrule.deliver.score_marks import fitted_marks
from ferrule.deliver.summary import SummaryView, squad_page, squad_table
from ferrule.model.finding import Finding, Span
from ferrule.model.fitted import Away, FittedWeek, Held, Impossible, Reason, SquadWeek, WayOut
from ferrule.model.house import House
from ferrule.model.squad import Run, Runner, Squad
from ferrule.model.words import DAYS

WEEK = sample.squad_week()
LIBRARY = sample.library()
PAGE = squad_page(WEEK, LIBRARY, House())


def _hostile() -> SquadWeek:
    bad = sample.HOSTILE
    why = Finding(bad, "error", bad, bad, bad, Span(bad, 1), bad)
    outcomes = (
        Impossible("R01", bad, (why,), (WayOut(bad, False),)),
        Held(bad, bad, bad),
        Away("R03", bad, bad),
        sample.hostile_week(),
    )
    spread = replace(WEEK.spread[1], written=bad, moved=(("R07", bad, bad),))
    return replace(WEEK, programme=bad, outcomes=outcomes, spread=(spread,), findings=(why,))


def test_the_order_is_look_first_then_departures_then_read_back() -> None:
    heads = re.findall(r"<h2[^>]*>([^<]+)</h2>", PAGE)
    assert heads == ["Who needs a look first", "What differs from your text", "How the squad meets each line", "Weeks"]
    text = text_of(PAGE)
    assert text.index("R01 Runner 01") < text.index("R02 Runner 02") < text.index("R03 Runner 03")


def test_impossible_carries_reasons_and_ways_out() -> None:
    text = text_of(PAGE)
    assert "No day is left for session 2. Tuesday and Thursday are key runs" in text
    assert "Allow Friday for strength (tried: it works)" in text
    assert "Answered yes to a health question" in text
    assert "Begins on Monday 2 February." in text


def test_departures_say_what_was_written_what_it_is_and_why() -> None:
    text = text_of(PAGE)
    assert "Session 1, C Press-up Press-up, hands raised. Press-up for 10 leaves 3 less" in text
    assert "3 sets of 12 reps." in text
    assert "this is the first that fits." in text
    assert "Session 2 on Thursday 22 January: Moved from Wednesday" in text
    assert "12 kg is the nearest" not in text, "choices the coach left open are no departures"


def test_the_budget_is_said_and_when_it_is_passed() -> None:
    assert "18 departures from your text; you are willing to read 60." in text_of(PAGE)
    over = squad_page(replace(WEEK, departures=72), LIBRARY, House())
    assert "72 departures from your text; you are willing to read 60: 12 too many." in text_of(over)


def test_the_read_back_counts_and_names_who_moved() -> None:
    labels = [v for t, n, v in read(PAGE).attributes if t == "svg" and n == "aria-label"]
    assert "As written: too easy 0, right 3, too hard 6, cannot 0" in labels
    ids = r" ?, ?".join(f"R{n:02d}" for n in range(7, 13))
    assert re.search(rf"6 to Press-up, hands raised ?: {ids}", text_of(PAGE))


def test_reasons_that_differ_in_numbers_are_told_once() -> None:
    why = "Press-up: too hard: {} likely possible, 11-13 meant"
    spread = replace(WEEK.spread[1], moved=tuple((f"R{n}", "Press-up, knees", why.format(n)) for n in (1, 2)))
    assert moved(spread) == (Moved("Press-up, knees", "Too hard.", ("R1", "R2")),)
    one = replace(spread, moved=spread.moved[:1])
    assert moved(one) == (Moved("Press-up, knees", "Too hard: 1 likely possible, 11-13 meant.", ("R1",)),)


def test_a_line_left_out_is_said_so_and_not_named_twice() -> None:
    spread = replace(WEEK.spread[1], moved=(("R1", "left out", "Press-up left out: no kneeling"),))
    (one,) = moved(spread)
    assert (one.said, one.why) == ("1 left out", "No kneeling.")


def test_lines_right_for_all_take_one_sentence() -> None:
    plain = replace(WEEK.spread[0], too_easy=(), too_hard=(), cannot=(), right=("R04", "R05"))
    text = text_of(squad_page(replace(WEEK, spread=(plain, *WEEK.spread[1:])), LIBRARY, House()))
    assert "Right for all 2: A1 Step-up: 5-7/side, 2 RIR." in text


def test_runs_and_body_mass_come_with_the_squad() -> None:
    span = Span("squad.csv", 1)
    runners = tuple(
        Runner(o.runner_id, o.runner_name, "some", (), (0, 3), (Run(6, "long"),), None, span, mass_kg=65)
        for o in WEEK.outcomes
    )
    page = squad_page(WEEK, LIBRARY, House(), squad=Squad("squad.csv", runners))
    assert "Sun long run" in page
    assert "where it is known" in text_of(PAGE)
    assert "where it is known" not in text_of(page)


def test_each_session_of_a_runner_opens_along_its_time_in_words_too() -> None:
    seen = read(PAGE)
    alts = [v or "" for t, n, v in seen.attributes if t == "svg" and n == "aria-label"]
    weeks = [o for o in WEEK.outcomes if isinstance(o, FittedWeek)]
    for w in weeks:
        assert {alt_of(fitted_marks(s, LIBRARY)) for s in w.sessions} <= set(alts)
    text = text_of(PAGE[PAGE.index('id="weeks"') :])
    one = weeks[0].sessions[0]
    assert f"Session 1: {one.name}, {DAYS[one.day.weekday()]} {one.day.day}" in text


def test_times_of_a_session_that_are_alike_are_drawn_once() -> None:
    week = sample_many.week()
    page = squad_page(replace(WEEK, outcomes=(week,)), LIBRARY, House())
    drawn = page[page.index('id="weeks"') :].count("<details>")
    assert drawn == len(repeated(week.sessions)) < len(week.sessions)


def test_the_page_of_24_runners_stays_small() -> None:
    """A coach may open it on a phone; 2 MB is the most."""
    page = squad_page(sample.squad_week(24), LIBRARY, House())
    assert len(page.encode()) < 2_000_000


def test_lines_of_runners_in_two_cycles_are_told_apart() -> None:
    one, two, *_ = (o for o in WEEK.outcomes if isinstance(o, FittedWeek))
    one, two = replace(one, cycle_name="Build"), replace(two, cycle_name="Peak")
    line = replace(WEEK.spread[1], too_easy=(), too_hard=(), cannot=(), right=(), moved=())
    spread = (replace(line, too_hard=(one.runner_id,)), replace(line, too_hard=(two.runner_id,)))
    squad = replace(WEEK, outcomes=(one, two), spread=spread)
    heads = re.findall(r"<h3>(Session 1[^<]*)</h3>", squad_page(squad, LIBRARY, House()))
    assert [h.rpartition(", in ")[2] for h in heads] == ["Build", "Peak"]
    table = squad_table(squad).splitlines()
    assert table.index("in Build") < table.index("in Peak")
    assert ", in " not in " ".join(re.findall(r"<h3>([^<]*)</h3>", PAGE))


def test_nothing_is_fetched_and_nothing_scripted() -> None:
    seen = read(PAGE)
    assert not {"script", "img", "link", "iframe", "form"} & set(seen.tags)
    assert not [a for a in seen.attributes if a[1] == "style" or a[1].startswith("on") or a[1] in ("src", "href")]


def test_hostile_text_stays_text() -> None:
    seen = read(squad_page(_hostile(), LIBRARY, House()))
    assert not {"script", "b"} & set(seen.tags)
    assert "<b>Zoë</b> #eval(1)" in " ".join(seen.text)
    assert "\u202e" not in " ".join(seen.text)


def test_an_empty_squad_is_a_page_and_a_table() -> None:
    empty = replace(WEEK, outcomes=(), spread=(), departures=0)
    assert "No runners." in text_of(squad_page(empty, LIBRARY, House()))
    assert "No runners." in squad_table(empty)


def test_the_template_uses_all_it_gets() -> None:
    template = part("summary.html")
    assert [f.name for f in fields(SummaryView) if f"page.{f.name}" not in template] == []


def test_the_table_keeps_to_100_columns_and_one_line_a_row() -> None:
    for squad in (WEEK, sample.squad_week(60), _hostile()):
        lines = squad_table(squad).splitlines()
        assert max(width(line) for line in lines) <= 100
        assert all(line == line.rstrip() for line in lines)
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f\u202a-\u202e]", "\n".join(lines))


def test_a_session_done_many_times_counts_once() -> None:
    week = sample_many.week()
    item = replace(
        week.sessions[1].blocks[0].items[0],
        reasons=(Reason("kit", "no barbell"), Reason("not fitted", "left as written, not fitted: slow")),
    )
    block = replace(week.sessions[1].blocks[0], items=(item,))
    many = replace(
        week, sessions=tuple(replace(s, blocks=(block,)) if s.key.startswith("2") else s for s in week.sessions)
    )
    squad = replace(WEEK, outcomes=(many,), spread=(replace(WEEK.spread[0], session_key="2"),))
    page = squad_page(squad, LIBRARY, House())
    text = text_of(page)
    assert text.count("No barbell.") == 1
    assert "2 changes" in text, "the barbell, and the third time of session 1 on another day"
    assert "Session 1 (3 of 3) on Friday 23 January: Moved from Thursday" in text
    assert "Session 4: hops (2 of its 3 times): No time is left" in text
    assert re.search(r"<h3>Session 2: calf</h3>", page)
    table = squad_table(squad)
    assert "1+2+2" in table
    assert re.search(r"R07 Runner 07 .* 2\+2 +1\n", table)


def test_forms_left_as_written_are_told_to_the_coach() -> None:
    squad = replace(WEEK, outcomes=(sample_many.week(), replace(sample_many.week(), runner_id="R08", runner_name="")))
    text = text_of(squad_page(squad, LIBRARY, House()))
    assert text.count("lowering only; rest-pause 20 s x 3 . R07 Runner 07 , R08 .") == 1
    assert "Not fitted" not in text_of(PAGE)
    assert "lowering only; rest-pause 20 s x 3. R07 Runner 07, R08" in " ".join(squad_table(squad).split())


def test_the_table_says_what_the_page_says() -> None:
    table = " ".join(squad_table(_hostile()).split())
    assert clean("held: you write") in table
    table = squad_table(WEEK)
    for said in ("18 departures from your text", "way out: Allow Friday for strength", "6 to Press-up, hands raised"):
        assert said in table


def test_the_table(golden: Callable[[str, str], None]) -> None:
    golden("deliver/squad_table.txt", squad_table(WEEK))


def test_the_words_of_the_page(golden: Callable[[str, str], None]) -> None:
    lines = [" ".join(t.split()) for t in read(PAGE).text]
    golden("deliver/summary.txt", "\n".join(line for line in lines if line) + "\n")
