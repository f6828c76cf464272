from __future__ import annotations

from dataclasses import replace

from ferrule.fit.build import Laid
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import fit_runner, lay
from ferrule.fit.spread import LineVerdict, spread_of, verdicts, which_way
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad


def test_lines_are_told_in_the_order_of_the_text_with_who_moved(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runners = [make_runner(id="T01"), make_runner(id="T02", kit=())]
    said: list[LineVerdict] = []
    weeks: list[FittedWeek] = []
    for runner in runners:
        laid = lay(programme, runner, library, house, MONDAY)
        week = fit_runner(programme, runner, library, house, MONDAY)
        assert isinstance(laid, Laid)
        assert isinstance(week, FittedWeek)
        said += verdicts(laid)
        weeks.append(week)
    spread = spread_of(said, weeks)
    keys = [(s.session_key, s.item_key) for s in spread]
    assert len(set(keys)) == len(keys)
    step_up = next(s for s in spread if s.written.startswith("Step-up"))
    assert "T02" in step_up.cannot
    assert [r for r, _, _ in step_up.moved if r == "T02"] == ["T02"]
    assert all("step" in why for r, _, why in step_up.moved if r == "T02")
    for line in spread:
        assert len({*line.too_easy, *line.right, *line.too_hard, *line.cannot}) == 2


def test_each_who_was_moved_is_told_which_way(demo: Programme, squad: Squad, library: Library, house: House) -> None:
    week = fit_squad(demo, squad, library, house, MONDAY)
    fitted = {w.runner_id: w for w in week.outcomes if isinstance(w, FittedWeek)}
    said = 0
    for line in week.spread:
        assert [r for r, _ in line.ways] == [r for r, _, _ in line.moved]
        for (runner, way), (_, _, why) in zip(line.ways, line.moved, strict=True):
            item = next(
                (i for s in fitted[runner].sessions if s.key == line.session_key for b in s.blocks for i in b.items
                 if i.item_key == line.item_key), None,
            )  # fmt: skip
            assert (way == "left out") == (item is None)
            if "too hard" in why and way in ("easier", "harder"):
                assert way == "easier"
                said += 1
            if why.startswith("too easy") or ": too easy" in why:
                assert way in ("harder", "more weight", "another exercise", "as hard")
    assert said > 3


def test_which_way_is_told_by_what_is_believed_of_the_runner(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    week = fit_runner(programme, make_runner(), library, house, MONDAY)
    assert isinstance(week, FittedWeek)
    item = next(
        i for s in week.sessions for b in s.blocks for i in b.items if i.variant_id == "step-up" and i.prediction
    )
    said = LineVerdict("1", "1", "A1", "Split squat: 8", "too easy", "T01", "split-squat", None, 65.0, 0.5)
    assert item.prediction is not None
    for share, way in ((0.8, "harder"), (0.3, "easier"), (0.5, "as hard")):
        foretold = replace(item, sets=1, load=None, prediction=replace(item.prediction, share=share))
        assert which_way(said, foretold, library) == way
    weaker = which_way(replace(said, share=None), replace(item, load=None), library)
    ratio = library.variants["step-up"].main, library.variants["split-squat"].main
    assert ratio[0] is not None
    assert ratio[1] is not None
    assert weaker == ("easier" if ratio[0].base < ratio[1].base else "harder")
