"""Bands as loads: the one owned that is nearest to the effort, said by its name everywhere."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.library.bands import demand_with
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import KitItem, Runner, Sore
from ferrule.model.words import Band
from ferrule.programme.reader import read_programme

TEXT = """---
programme: Bands
weeks: 6
---

## Cycle 1, weeks 1-6: One

### Session 1: pull, 25 min

Straight, 3 sets, rest 60 s

- Band row: {dose}
- Squat, half: 8, no weight
"""


def pulls(library: Library, dose: str) -> Programme:
    programme, findings = read_programme(TEXT.format(dose=dose), "programme.md", library)
    assert not [f for f in findings if f.level == "error"]
    return programme


def bands(*names: Band) -> tuple[KitItem, ...]:
    return (KitItem("mat"), *(KitItem("band", band=b) for b in names))


def row_of(
    runner: Runner, dose: str, library: Library, house: House, shift: float = 0.0
) -> tuple[FittedItem, FittedWeek]:
    """The row line, with the capacity to pull `shift` above the prior (natural log)."""
    programme = pulls(library, dose)
    prior = capacity_of(runner, MONDAY)
    belief = replace(
        prior,
        mean_log={**prior.mean_log, "pull": prior.mean_log["pull"] + shift},
        sd_log={**prior.sd_log, "pull": 0.1},
    )
    week = fit_runner(programme, runner, library, house, MONDAY, capacity=belief)
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, house, belief) == ()
    return week.sessions[0].blocks[0].items[0], week


def test_the_stronger_the_thicker(library: Library, house: House, make_runner: MakeRunner) -> None:
    runner = make_runner(kit=bands("thin", "medium", "thick"))
    seen = []
    for shift in (-0.8, -0.4, 0.0, 0.4, 0.8):
        item, _ = row_of(runner, "8-12, 2 RIR", library, house, shift)
        main = library.variants[item.variant_id].main
        assert main is not None
        if item.load is None:
            continue
        seen.append((main.demand(item.load.kg, "band", 60.0), item.load.band))
    assert seen == sorted(seen, key=lambda s: s[0])
    assert len({band for _, band in seen}) > 1


def test_a_named_band_is_taken_and_another_says_why(library: Library, house: House, make_runner: MakeRunner) -> None:
    owns_both = make_runner(kit=bands("thin", "medium"))
    item, _ = row_of(owns_both, "8-12, medium band", library, house)
    assert item.load == LoadChoice(2.0, "band", ("medium band",), "medium")
    assert not item.reasons
    item, _ = row_of(make_runner(kit=bands("thin")), "8-12, medium band", library, house)
    assert item.load is not None
    assert item.load.band == "thin"
    assert [r.text for r in item.reasons] == ["thin band instead: the written load cannot be made of what is owned"]


def test_without_an_effort_the_thinnest_is_as_written(library: Library, house: House, make_runner: MakeRunner) -> None:
    item, week = row_of(make_runner(kit=bands("thick", "medium")), "10", library, house, 0.6)
    assert item.load is not None
    assert item.load.band == "medium"
    assert not item.departs
    assert "medium band" in week.sessions[0].fetch
    assert "thick band" not in week.sessions[0].fetch


def test_the_demand_is_that_of_the_band(library: Library, house: House, make_runner: MakeRunner) -> None:
    item, _ = row_of(make_runner(kit=bands("thick")), "10", library, house, 1.5)
    main = library.variants["band-row"].main
    assert main is not None
    thin, thick = demand_with(main, "thin", 60.0), demand_with(main, "thick", 60.0)
    assert thin is not None
    assert thick is not None
    lighter, _ = row_of(make_runner(kit=bands("thin")), "10", library, house, 1.5)
    assert item.prediction is not None
    assert lighter.prediction is not None
    assert item.prediction.share / lighter.prediction.share == pytest.approx(thick / thin)


def test_a_sore_arm_keeps_the_thin_band_only(library: Library, house: House, make_runner: MakeRunner) -> None:
    sore = make_runner(kit=bands("thin", "thick"))
    sore = replace(sore, sore=(Sore("arm", "both", 1, sore.span),))
    item, _ = row_of(sore, "8-12, 2 RIR", library, house, 1.5)
    assert item.load is None or item.load.kg == 0


def test_a_band_that_is_not_owned_or_not_said_is_refused(
    library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner(kit=bands("thin"))
    item, week = row_of(runner, "10", library, house)
    for load in (None, LoadChoice(5.0, "band", ("thick band",), "thick")):
        session = week.sessions[0]
        block = replace(session.blocks[0], items=(replace(item, load=load), *session.blocks[0].items[1:]))
        broken = replace(week, sessions=(replace(session, blocks=(block,)),))
        found = verify(broken, pulls(library, "10"), runner, library, house, capacity_of(runner, MONDAY))
        assert any("band" in f.what for f in found)
