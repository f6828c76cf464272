"""The shot list: everything a cycle asks for is shown, and no shorter list could show it."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.deliver.shots import ShotList, Showing, alike, shots_of
from ferrule.library.reader import load_library
from ferrule.programme.reader import read_programme

LIBRARY = load_library()[0]
HEAD = "---\nprogramme: P\nweeks: 2\n---\n\n## Cycle 1, weeks 1-2: C\n\n### Session 1, 30 min\n\nStraight, 3 sets, rest 60 s\n\n"


def listed(*lines: str) -> ShotList:
    text = HEAD + "".join(f"- {line}\n" for line in lines)
    programme, _ = read_programme(text, "p.md", LIBRARY)
    return shots_of(programme, programme.cycles[0], LIBRARY)


def fewest(showings: list[Showing]) -> int:
    """Exact set cover by trying every set of clips, smallest first; a clip is one showing or two that are alike."""
    clips = [{s} for s in showings]
    clips += [
        {a, b}
        for a, b in combinations(showings, 2)
        if alike(LIBRARY.variants[a.variant_id]) == alike(LIBRARY.variants[b.variant_id])
    ]
    for count in range(len(showings) + 1):
        if any(set().union(*chosen) == set(showings) for chosen in combinations(clips, count)):
            return count
    raise AssertionError


def test_one_exercise_with_and_without_a_load_is_one_clip() -> None:
    found = listed("Squat: 8", "Squat: 8, 12 kg at chest", "Step-up: 8/side")
    assert [c.names for c in found.clips] == [("Squat", "Squat, a weight at the chest"), ("Step-up",)]
    assert found.showings == 3
    assert found.clips[0].fetch == ("weight",)


def test_the_same_showing_on_two_lines_is_filmed_once_and_both_are_named() -> None:
    found = listed("Squat: 8, 12 kg at chest", "Squat: 5, 16 kg at chest")
    assert len(found.clips) == 1
    assert found.clips[0].names == ("Squat, a weight at the chest",)
    assert found.clips[0].used == ("session 1, A1", "session 1, A2")


def test_alternatives_are_filmed_too() -> None:
    found = listed("Press-up: 8\n  - or Press-up, knees: 8")
    assert [c.names for c in found.clips] == [("Press-up",), ("Press-up, knees",)]


def test_open_lines_and_unknown_names_are_told() -> None:
    found = listed("any hinge, one leg: 8/side", "Flying trapeze: 8", "Squat: 8")
    assert found.open_lines == ("session 1, A1: any hinge, one leg",)
    assert found.unknown == ("session 1, A2: Flying trapeze",)
    assert found.showings == len(found.clips) == 1


def test_a_load_without_a_place_is_where_the_exercise_is_loaded_first() -> None:
    assert listed("Squat: 8, 12 kg").clips[0].names == ("Squat, a weight in each hand",)


def test_a_line_of_a_later_week_alone_is_filmed() -> None:
    rows = "Squat: 8\n- Step-up: 8/side\n\n| week | 1 | 2 |\n|---|---|---|\n| Step-up | - | |"
    assert {c.names[0] for c in listed(rows).clips} == {"Squat", "Step-up"}


def test_exercises_whose_work_is_in_the_arms_are_alike_only_to_themselves() -> None:
    low, high = (LIBRARY.variants[f"prone-arm-raise-{part}"] for part in ("back", "high"))
    assert alike(low) != alike(high)


SHOWINGS = st.builds(
    Showing,
    st.sampled_from(["squat", "squat-half", "heel-raise-one-leg", "press-up", "step-up"]),
    st.sampled_from([None, "hands", "chest", "back"]),
)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(SHOWINGS, min_size=1, max_size=6, unique=True))
def test_no_shorter_list_shows_it_all(showings: list[Showing]) -> None:
    places = {None: "", "hands": ", 12 kg in hands", "chest": ", 12 kg at chest", "back": ", 12 kg on back"}
    lines = [f"{LIBRARY.variants[s.variant_id].name}: 8{places[s.place]}" for s in showings]
    found = listed(*lines)
    shown = [s for clip in found.clips for s in clip.showings]
    assert sorted(map(repr, shown)) == sorted(map(repr, showings))
    assert len(found.clips) == fewest(showings)
    assert all(len(clip.showings) <= 2 for clip in found.clips)


@pytest.mark.parametrize("variant_id", ["squat", "pelvic-drop", "clam"])
def test_each_clip_says_how_it_is_filmed(variant_id: str) -> None:
    clip = listed(f"{LIBRARY.variants[variant_id].name}: 8").clips[0]
    assert clip.shot == LIBRARY.variants[variant_id].shot
    assert clip.setup == LIBRARY.variants[variant_id].setup
