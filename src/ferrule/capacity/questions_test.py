from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.capacity import questions
from ferrule.capacity.observation import observe
from ferrule.capacity.update import Step
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve

LIBRARY, _ = load_library()
PLAIN = LoggedSet(
    "a", "R01", date(2026, 1, 5), "s1", "i1", "split-squat", 2, "counted", done=8, reserve=Reserve(2, 2), load_kg=10.0,
    place="hands",
)  # fmt: skip


def asked(meant: LoggedSet, typed: LoggedSet) -> str:
    """The question about `typed` where `meant` is what was believed."""
    expected, read = (observe(e, LIBRARY, 60.0) for e in (meant, typed))
    step = Step("aside", 6.0, 0.0, expected.log_demand + 0.2, read.log_demand + 0.2)
    found = questions.far_off(typed, read, step, LIBRARY)
    assert (found.code, found.level) == ("log-ask", "advice")
    return found.fix


@pytest.mark.parametrize(
    ("typed_kg", "words"),
    [(100.0, "was it 10 kg, not 100 kg?"), (22.0, "was it 10 kg (pounds written as kg), not 22 kg?")],
)
def test_the_likeliest_slip_is_asked_for(typed_kg: float, words: str) -> None:
    assert words in asked(PLAIN, replace(PLAIN, load_kg=typed_kg))


def test_a_nought_behind_a_count_is_asked_for() -> None:
    bare = replace(PLAIN, variant_id="press-up", load_kg=0.0, place=None)
    o = observe(replace(bare, done=80), LIBRARY, 60.0)
    found = questions.far_off(replace(bare, done=80), o, Step("aside", 5.0, 0.0, 0.3, 1.2), LIBRARY)
    assert "was it 8 repetitions, not 80?" in found.fix


def test_what_has_no_likely_slip_is_asked_openly() -> None:
    o = observe(PLAIN, LIBRARY, 60.0)
    found = questions.far_off(PLAIN, o, Step("aside", -9.0, 0.0, 1.5, 0.2), LIBRARY)
    assert "far less" in found.what
    assert "is this right" in found.fix


def test_a_change_is_told_with_pain_first_when_it_is_a_loss() -> None:
    assert "pain" in questions.changed(date(2026, 2, 2), stronger=False).fix
    assert "pain" not in questions.changed(date(2026, 2, 2), stronger=True, group="push").fix
