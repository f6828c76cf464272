"""`ferrule explain RUNNER [WORKSPACE]`: what is believed of one runner, from what, how sure, and what to ask next."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from ferrule.capacity.belief import belief
from ferrule.capacity.explain import exercise_belief, group_beliefs
from ferrule.capacity.fold import fold
from ferrule.capacity.observation import mass_of
from ferrule.capacity.prior import prior_capacity
from ferrule.capacity.telling import asked_of, most_telling
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, day, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import terminal_width
from ferrule.cli.fitting import file_errors, show_findings
from ferrule.cli.next_told import entries_in, told_in
from ferrule.cli.reading import indented
from ferrule.cli.record import with_clearances
from ferrule.cli.stop import Stop
from ferrule.deliver import family_picture
from ferrule.deliver.explain import Explanation, explain_page, explain_text, picture_of, usual_band
from ferrule.fit.squad import fit_squad
from ferrule.library.names import nearest
from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import has_errors
from ferrule.model.fitted import FittedItem, FittedWeek, Held, Impossible, Outcome
from ferrule.model.quantity import Range
from ferrule.model.squad import Runner
from ferrule.model.words import Place
from ferrule.next.beliefs import something_known
from ferrule.next.past import NOTHING_SHARED, Shared
from ferrule.next.squad import shared_for
from ferrule.record.standing import away_of, sets_of, standing_apart, standing_of, tests_of
from ferrule.squad.loads import load_choices
from ferrule.squad.place import monday_of
from ferrule.squad.sites import sites_of

MORE = """\
Without logged sets the belief is what is usual for a runner like this, and home tests; it says so. Likely means eight
times of ten. The week decides what the coach meant and which set would tell most: it is fitted as `ferrule fit` does, for
this runner alone, so not held to the lanes of the squad. When the runner has no week there, the first week of the
programme is taken. This is for the coach, not for the runner."""

LOADS_SHOWN = 4
"""Loads beside the one that is asked, so that the picture can be read."""


def run(words: list[str]) -> int:
    """Explain and print. Returns the exit code."""
    parser = parser_for("explain", MORE)
    parser.add_argument("runner", metavar="RUNNER", help="id of the runner, as in the squad list")
    parser.add_argument(
        "workspace", metavar="WORKSPACE", type=Path, nargs="?", default=Path(),
        help="folder with programme.md and squad.csv; this folder when left out",
    )  # fmt: skip
    parser.add_argument("--exercise", metavar="ID", help="this exercise: an id, a name or another trade name")
    parser.add_argument("--week", metavar="DATE", type=day, help="any day of the week meant; this week when left out")
    parser.add_argument("--next", action="store_true", help="only which set of the week would tell most, all in order")
    parser.add_argument("--out", metavar="FILE", type=Path, help="also write the page (.html) or the picture (.svg)")
    add_json(parser)
    args = parser.parse_args(words)
    if args.out and args.out.suffix not in (".html", ".svg"):
        raise Stop(f"{args.out} is neither .html nor .svg", "name the page with .html, the picture with .svg")
    workspace = with_clearances(ws.open_workspace(args.workspace))
    runner = runner_of(workspace.squad, args.runner)
    variant = None if args.exercise is None else _variant(args.exercise, workspace.library)
    told = explained(workspace, runner, args.week or date.today(), variant)
    if args.out:
        _write(args.out, told)
    if args.json:
        print(json.dumps(as_data(told), indent=2, ensure_ascii=False))
    else:
        show_findings(file_errors(workspace), workspace, sys.stderr)
        print(indented(explain_text(told, only_next=args.next), terminal_width()))
    return 1 if has_errors(file_errors(workspace)) else 0


def explained(workspace: ws.Workspace, runner: Runner, on: date, variant: Variant | None = None) -> Explanation:
    """`explanation` with everything that stands in the record of the workspace."""
    entries = standing_apart(entries_in(workspace))
    own = standing_of(entries, runner.id)
    shared = shared_for(workspace.programme, workspace.squad, workspace.library, entries, runner, monday_of(on))
    return explanation(
        workspace, runner, on, variant, sets=sets_of(own, runner.id), tests=tests_of(own, runner.id),
        away=away_of(own, runner.id), shared=shared,
    )  # fmt: skip


def explanation(
    workspace: ws.Workspace,
    runner: Runner,
    on: date,
    variant: Variant | None = None,
    *,
    sets: Sequence[LoggedSet] = (),
    tests: Sequence[LoggedTest] = (),
    away: Iterable[TimeAway] = (),
    shared: Shared = NOTHING_SHARED,
) -> Explanation:
    """What is believed of `runner` on the morning of `on`, from what they did before that day.

    So on a Monday it is what the fit of that week believes. The week itself is fitted by what the record says
    (`next_told.told_in`), not by the sets given here.

    variant   the exercise to explain; None takes the one whose set would tell most
    shared    what the squad shares, and what corrects its chances
    """
    library, mass = workspace.library, mass_of(runner)
    sets = tuple(e for e in sets if e.runner_id == runner.id and e.day < on)
    tests = tuple(t for t in tests if t.runner_id == runner.id and t.day < on)
    until = on - timedelta(days=1)
    races = tuple(r for r in runner.races if r <= until)
    state, doubts = fold(
        runner, library, until=until, sets=sets, tests=tests, away=away, races=races, offsets=shared.offsets
    )
    told = something_known(state, shared.offsets)
    known = prior_capacity(runner, on.year)
    if told:
        known = replace(belief(state, library, mass), calibration=shared.calibration)
    week, said = _week(workspace, runner, on)
    asked = () if week is None else asked_of(week, library)
    tellings = most_telling(state, library, asked)
    if variant is None and tellings:
        variant = library.variants[tellings[0].asked.variant_id]
    exercise, band = None, None
    words = ""
    if variant is not None and variant.main is not None:
        telling = next((t for t in tellings if t.asked.variant_id == variant.id), None)
        line = None if telling is None else telling.asked
        place = next(iter(variant.loading), None) if line is None or line.place is None else line.place
        exercise = exercise_belief(
            variant, known, library, mass, loads=_loads(runner, place, mass), asked=line, sets=sets, telling=telling
        )
        item = None if week is None or line is None else _item(week, line.session_key, line.item_key)
        meant = None if item is None else family_picture.band(item, library)
        if item is not None and meant is not None:
            band, words = meant, _meant_words(item)
        else:
            band, words = usual_band(variant.main.group, hold=variant.dose_kind == "hold")
    return Explanation(
        runner.id, runner.name, on, said, len(sets) + len(tests), group_beliefs(known, library, runner, state, tests),
        exercise, band, words, tellings, tuple(f.what for f in doubts),
    )  # fmt: skip


def _week(workspace: ws.Workspace, runner: Runner, on: date) -> tuple[FittedWeek | None, str]:
    """The fitted week of that day, else the first of the programme, and which it is or why there is none."""
    why = ""
    for monday, name in _mondays(runner, on):
        found = fitted_alone(workspace, runner, monday)
        if isinstance(found, FittedWeek):
            return found, f"{name}, as fitted for this runner alone"
        if isinstance(found, Held):
            return None, f"on hold, so nothing is fitted: {found.reason}"
        why = why or ("no week could be fitted" if isinstance(found, Impossible) else f"no week: {found.reason}")
    return None, why


def fitted_alone(workspace: ws.Workspace, runner: Runner, monday: date) -> Outcome:
    """What `ferrule fit` gives this runner in the week of `monday`: within their plan, by the belief of that Monday.

    What the squad weighs together is left aside: the lanes, departures of others in the change budget, kit that two share at
    home.
    """
    told = told_in(workspace, monday)
    alone = replace(told.squad, runners=(runner_of(told.squad, runner.id),))
    own = {r: p.own for r, p in told.plans.items()}
    found = fit_squad(
        workspace.programme, alone, workspace.library, workspace.house, monday,
        last=told.goes_on, beliefs=told.beliefs, lanes=0, own=own,
    )  # fmt: skip
    return found.outcomes[0]


def _mondays(runner: Runner, on: date) -> tuple[tuple[date, str], ...]:
    monday = monday_of(on)
    here = ((monday, f"week of {monday.day} {monday:%B}"),)
    if runner.anchor is None or runner.anchor.kind != "from":
        return here
    first = monday_of(max(runner.anchor.day, runner.starts or runner.anchor.day))
    return (*here, (first, "first week of the programme")) if first != monday else here


def _item(week: FittedWeek, session_key: str, item_key: str) -> FittedItem | None:
    items = ((s.key, i) for s in week.sessions for b in s.blocks for i in b.items)
    return next((i for key, i in items if key == session_key and i.item_key == item_key), None)


def _meant_words(item: FittedItem) -> str:
    """What the line means, in the terms of the band."""
    assert item.prediction is not None
    left: Range = item.prediction.intended
    amount = f"{item.reps} repetitions" if item.hold_s is None else f"{item.hold_s} s"
    if left.high > 20:
        return f"{amount}, whatever is left"
    if item.hold_s is not None:
        return f"{amount}, {Range(round(10 * left.low), round(10 * left.high))} % of it left"
    return f"{amount}, {Range(round(left.low, 1), round(left.high, 1))} left"


def _loads(runner: Runner, place: Place | None, mass_kg: float) -> tuple[tuple[float, Place], ...]:
    """A few loads the runner can make at that place, spread over all of them."""
    if place is None or place == "band":
        return ()
    every = sorted({c.kg for site in sites_of(runner) for c in load_choices(site.kit, place, mass_kg)})
    if len(every) > LOADS_SHOWN:
        every = [every[round(i * (len(every) - 1) / (LOADS_SHOWN - 1))] for i in range(LOADS_SHOWN)]
    return tuple((kg, place) for kg in every)


def _variant(name: str, library: Library) -> Variant:
    """The exercise of that name. Raises Stop with the nearest ones, and for one that is never dosed."""
    found = library.find(name)
    if found is None:
        near = ", ".join(v.name for v in nearest(library, name))
        raise Stop(
            f"the library has no exercise {name!r}",
            f"the nearest are {near}" if near else "`ferrule library` lists them",
        )
    if found.main is None or found.dose_kind not in ("reps", "hold"):
        raise Stop(f"{found.name} is not counted against a best", "`ferrule library NAME` says what an exercise asks")
    return found


def _write(path: Path, told: Explanation) -> None:
    if path.suffix == ".html":
        ws.write_text(path, explain_page(told))
        return
    drawn = picture_of(told)
    if not drawn:
        raise Stop(
            "there is no picture: no line of the week is counted against a best", "name an exercise with --exercise"
        )
    ws.write_text(path, drawn)


def as_data(told: Explanation) -> dict[str, object]:
    """The same as plain data; shares are of best, amounts repetitions or seconds."""
    import msgspec

    data: dict[str, object] = msgspec.to_builtins(told)
    return data
