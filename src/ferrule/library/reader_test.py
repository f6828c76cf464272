"""The coach's own files: placed, told, never raised."""

from __future__ import annotations

import re
from math import log, sqrt
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.model.finding import Finding

BUILT_IN, _ = load_library()
DOC = Path(__file__).parents[3] / "docs" / "add-an-exercise.md"
FENCE = b'name = "Fence step"\nharder_than = "Step-up, low"\neasier_than = "Step-up"\nneeds = ["chair"]\n'


def findings_of(text: str | bytes, file: str = "own.toml") -> list[Finding]:
    data = text.encode() if isinstance(text, str) else text
    return list(load_library({file: data})[1])


def codes(text: str) -> list[str]:
    return [f.code for f in findings_of(text)]


def test_four_lines_place_an_exercise_between_two_others() -> None:
    library, findings = load_library({"own.toml": FENCE})
    assert findings == ()
    fence = library.find("fence step")
    low, high = library.variants["step-up-low"].main, library.variants["step-up"].main
    assert fence is not None
    assert fence.main is not None
    assert low is not None
    assert high is not None
    assert fence.main.base == pytest.approx(sqrt(low.base * high.base), abs=1e-3)
    assert fence.main.trust == "order"
    assert "inferred" in fence.source
    assert fence.kit == ("chair",)
    assert (fence.pattern, fence.one_leg, fence.dose_kind) == ("step", True, "reps")
    ids = library.families["step"].variant_ids
    assert ids.index("step-up-low") < ids.index(fence.id) < ids.index("step-up")
    assert library.variants["step-up-low"].harder == (fence.id,)
    assert [library.variants[i].rank for i in ids] == list(range(len(ids)))


def test_what_is_inferred_is_named_and_its_demand_spread_wide() -> None:
    """Half the way between the neighbours on the log axis: ln(2 / 1.4) / 2 = 0.18; never below 0.15."""
    library, findings = load_library({"own.toml": FENCE + b'muscles = ["gluteus maximus"]\n'})
    assert findings == ()
    fence = library.variants["fence-step"]
    low, high = (library.variants[i].main for i in ("step-up-low", "step-up"))
    assert low is not None
    assert high is not None
    assert fence.spread_log == pytest.approx(log(high.base / low.base) / 2)
    assert fence.spread_log > 0.15
    assert {"demand", "pattern", "regions", "loading places", "time", "shot"} <= set(fence.inferred)
    assert not {"muscles", "needs"} & set(fence.inferred)
    close = b'name = "Near"\nharder_than = "Step-up, low"\neasier_than = "Step-down"\n'
    assert load_library({"own.toml": close})[0].variants["near"].spread_log == 0.15
    own = load_library({"own.toml": close + b"difficulty = 1.5\n"})[0].variants["near"]
    assert own.spread_log == 0.15
    assert "demand" not in own.inferred
    assert all((v.spread_log, v.inferred) == (0.0, ()) for v in load_library()[0].variants.values())


def test_a_second_exercise_may_follow_one_without_a_table_head() -> None:
    two = FENCE + b'\n[[variant]]\nname = "Wall step"\nharder_than = "Fence step"\n'
    library, findings = load_library({"own.toml": two})
    assert findings == ()
    assert library.variants["wall-step"].easier == ("fence-step",)
    _, findings = load_library({"own.toml": FENCE + b'\n[[variant]]\nname = "Wall step"\n'})
    assert {f.code for f in findings} == {"library-missing-key"}
    assert {f.span.line for f in findings if f.span} == {6}


def test_a_fault_of_the_supports_is_told_at_their_line() -> None:
    text = FENCE + b'hold = { trunk = 5 }\ncontact = [{ at = "foo" }]\n'
    found = [f for f in load_library({"own.toml": text})[1] if f.code == "pose-bad-contact"]
    assert [f.span.line for f in found if f.span] == [6]


def test_a_band_can_be_placed_and_carries_no_weight() -> None:
    text = b'name = "Leg out, loop"\nharder_than = "Leg out to the side, standing, band"\n'
    main = load_library({"own.toml": text})[0].variants["leg-out-loop"].main
    assert main is not None
    assert set(main.per_kg) == {"band"}
    found = load_library({"own.toml": text + b'loading = ["band"]\n'})[1]
    assert [f.code for f in found] == ["library-bad-value"]


def test_load_never_lowers_the_demand_of_a_placed_exercise() -> None:
    library, _ = load_library({"own.toml": FENCE})
    main = library.variants["fence-step"].main
    assert main is not None
    assert set(main.per_kg) == set(library.variants["fence-step"].loading)
    assert all(slope > 0 for slope in main.per_kg.values())


def test_the_built_in_library_is_left_as_it_was() -> None:
    load_library({"own.toml": FENCE})
    again, _ = load_library()
    assert again == BUILT_IN
    assert again.find("Fence step") is None


def test_own_exercises_may_name_each_other_in_any_order() -> None:
    own = {
        "a.toml": b'name = "Second"\nharder_than = "First"\neasier_than = "Step-up, high"\n',
        "b.toml": b'name = "First"\nharder_than = "Step-up"\neasier_than = "Step-up, high"\n',
    }
    library, findings = load_library(own)
    assert findings == ()
    assert library.families["step"].variant_ids[-4:] == ("step-up", "first", "second", "step-up-high")


def test_one_neighbour_is_enough() -> None:
    library, findings = load_library({"own.toml": b'name = "Fast chair rise"\nharder_than = "Chair rise"\n'})
    assert findings == ()
    assert library.families["squat"].variant_ids[:4] == ("squat-half", "chair-rise", "fast-chair-rise", "squat")
    library, findings = load_library({"own.toml": b'name = "Weighted pull-up"\nharder_than = "Pull-up"\n'})
    top, pull_up = library.variants["weighted-pull-up"].main, library.variants["pull-up"].main
    assert findings == ()
    assert top is not None
    assert pull_up is not None
    assert top.base == pytest.approx(1.2 * pull_up.base, abs=1e-3)
    assert library.families["pull"].variant_ids[-1] == "weighted-pull-up"


def test_between_two_jumps_there_is_no_demand_but_the_stricter_impact() -> None:
    own = b'name = "Fence jump"\nharder_than = "Jump onto a box"\neasier_than = "Split jump"\n'
    library, findings = load_library({"own.toml": own})
    fence = library.variants["fence-jump"]
    assert findings == ()
    assert fence.main is None
    assert fence.impact == 3
    assert fence.contacts_per_rep == 1


def test_what_the_coach_writes_wins_over_what_is_inferred() -> None:
    own = b'name = "Fence step"\nharder_than = "Step-up, low"\neasier_than = "Step-up"\ndifficulty = 1.7\nimpact = 1\n'
    library, _ = load_library({"own.toml": own})
    fence = library.variants["fence-step"]
    assert fence.main is not None
    assert fence.main.base == 1.7
    assert fence.impact == 1
    assert "inferred" not in fence.source


@pytest.mark.parametrize(
    ("text", "code", "line", "named"),
    [
        ("name = Fence\n", "library-toml", 1, "cannot be read"),
        ('name = "A"\nharder_than = "Stepup low"\n', "library-unknown-neighbour", 2, "Stepup low"),
        ('name = "A"\nharder_than = "Step-up"\neasier_than = "Step-up, low"\n', "library-crossed", 3, "harder than"),
        ('name = "A"\nharder_than = "Squat"\neasier_than = "Press-up"\n', "library-crossed", 3, "same group"),
        ('name = "A"\nharder_than = "Squat"\nneed = ["mat"]\n', "library-unknown-key", 3, "`need`"),
        ('name = "A"\nharder_than = "Squat"\nneeds = ["matt"]\n', "library-bad-value", 3, "`matt`"),
        ('name = "A"\nharder_than = "Squat"\nrep_s = "slow"\n', "library-bad-value", 3, "rep_s = slow"),
        ('name = "Squat"\nharder_than = "Step-up"\n', "library-name-taken", 1, "already belongs"),
        ('name = "A"\nharder_than = "Squat"\naliases = ["plank"]\n', "library-name-taken", 1, "Front plank"),
        ('harder_than = "Squat"\n', "library-missing-key", 1, "no name"),
        ('title = "x"\n', "library-unknown-key", 1, "`title`"),
        ('[[variant]]\nname = "A"\npattern = "squat"\n', "library-missing-key", 1, "cues"),
        (
            '[[variant]]\nname = "A"\npattern = "squat"\ngroup = "knee and hip"\ncues = ["Sit."]\nsetup = "Stand."\n'
            'regions = ["knee"]\n',
            "library-missing-key",
            2,
            "how hard",
        ),
        (
            'name = "A"\nharder_than = "Squat"\nhold = { trunk = 0 }\ncontact = [{ at = "foot" }, { at = "hand" }]\n',
            "library-no-posture",
            1,
            "cannot be taken",
        ),
    ],
)
def test_every_fault_is_a_finding_with_its_line(text: str, code: str, line: int, named: str) -> None:
    findings = findings_of(text)
    found = [f for f in findings if f.code == code and named in f.what]
    assert found, findings
    assert found[0].span is not None
    assert (found[0].span.file, found[0].span.line) == ("own.toml", line)
    assert found[0].why
    assert found[0].fix


def test_an_unknown_neighbour_is_answered_with_the_nearest_names() -> None:
    found = findings_of('name = "A"\nharder_than = "Stepup low"\n')
    assert "Step-up, low" in found[0].fix


def test_a_fault_in_one_exercise_leaves_the_others() -> None:
    text = FENCE.decode()
    both = '[[variant]]\nname = "Bad"\nharder_than = "nothing like it"\n\n[[variant]]\n' + text
    library, findings = load_library({"own.toml": both.encode()})
    assert library.find("Fence step") is not None
    assert [f.code for f in findings] == ["library-unknown-neighbour"]


def test_an_order_that_the_demands_contradict_is_told_unless_it_is_explained() -> None:
    shared = '[shared]\npattern = "pull"\ngroup = "pull"\nregions = ["arm"]\nsetup = "Stand."\ncues = ["Pull."]\n'
    rows = '[[variant]]\nname = "One"\ndifficulty = 1.2\n[[variant]]\nname = "Two"\ndifficulty = 1.0\n'
    assert codes('name = "F"\n' + shared + rows) == ["library-order"]
    assert codes('name = "F"\n' + shared + rows + 'order_note = "it takes more skill"\n') == []
    assert codes('name = "F"\n' + shared + rows.replace("1.0", "1.16")) == []


def test_a_family_of_the_same_name_stands_beside_the_built_in_one() -> None:
    text = 'id = "step"\nname = "My steps"\n[[variant]]\nname = "Log step"\npattern = "step"\ncues = ["Go."]\n'
    text += 'setup = "Stand."\nregions = ["knee"]\ngroup = "knee and hip"\ndifficulty = 1.1\n'
    library, findings = load_library({"own.toml": text.encode()})
    assert findings == ()
    assert library.families["step"] == BUILT_IN.families["step"]
    assert library.variants["log-step"].family == "own-step"
    assert library.families["own-step"].variant_ids == ("log-step",)


@pytest.mark.parametrize("number", range(5))
def test_every_example_of_the_guide_loads_without_a_finding(number: int) -> None:
    examples = re.findall(r"```toml\n(.*?)```", DOC.read_text(encoding="utf-8"), re.S)
    assert len(examples) == 5
    library, findings = load_library({"own.toml": examples[number].encode()})
    assert findings == ()
    new = [v for i, v in library.variants.items() if i not in BUILT_IN.variants]
    assert len(new) == examples[number].count("[[variant]]") or len(new) == 1
    assert all(v.main for v in new)


def test_the_guide_lists_every_code_and_every_kit_word() -> None:
    text = DOC.read_text(encoding="utf-8")
    sources = "".join(
        p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("*.py") if "_test" not in p.name
    )
    for code in set(re.findall(r'"(library-[a-z-]+)"', sources)):
        assert f"`{code}`" in text
    for group, variant_id in BUILT_IN.anchors.items():
        assert f"| {group} | {BUILT_IN.variants[variant_id].name} |" in text


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_give_a_library(data: bytes) -> None:
    library, findings = load_library({"own.toml": data})
    assert set(library.variants) >= set(BUILT_IN.variants)
    assert findings or len(library.variants) > len(BUILT_IN.variants)


KEYS = (
    "name",
    "harder_than",
    "easier_than",
    "needs",
    "cues",
    "loading",
    "difficulty",
    "impact",
    "hold",
    "step_cm",
    "faults",
)
VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-5, 200), st.sampled_from(["Squat", "Step-up", "mat", "~30", ""])),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(["at", "trunk", "seen"]), inner)
    ),
    max_leaves=4,
)


def as_toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(map(as_toml, value)) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {as_toml(v)}" for k, v in value.items()) + " }"
    return str(value) if isinstance(value, int) else f'"{value}"'


@settings(derandomize=True, max_examples=120, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=6))
def test_any_values_under_any_keys_give_findings_not_errors(table: dict[str, object]) -> None:
    text = "".join(f"{key} = {as_toml(value)}\n" for key, value in table.items())
    library, findings = load_library({"own.toml": text.encode()})
    assert set(library.variants) >= set(BUILT_IN.variants)
    assert list(findings) == sorted(set(findings), key=list(findings).index)
    assert all(f.span is not None and f.span.file == "own.toml" for f in findings)
