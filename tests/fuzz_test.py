"""Any bytes as a file: the functions behind the command line return findings and never raise."""

from __future__ import annotations

import os
from importlib.resources import files

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.check.house import read_house
from ferrule.check.run import check
from ferrule.cli.findings import as_data, render
from ferrule.cli.workspace import text_of
from ferrule.library.reader import load_library
from ferrule.model.finding import Finding
from ferrule.model.house import House
from ferrule.programme.reader import read_programme
from ferrule.programme.tidy import tidy
from ferrule.squad.reader import read_squad

START = files("ferrule.cli") / "start"
PROGRAMME = (START / "programme.md").read_bytes()
SQUAD = (START / "squad.csv").read_bytes()
HOUSE = b'coach = "A. Coach"\noff = ["pair-fights"]\n[thresholds]\nkey-run-gap-h = 30\nhysteresis = 0.5\n'
LIBRARY = load_library({})[0]

EXAMPLES = int(os.environ.get("FERRULE_FUZZ", "150"))
FUZZ = settings(derandomize=True, max_examples=EXAMPLES, deadline=None)

NOTATION = (
    "- ¦|¦---¦\n¦\r\n¦\t¦/side¦ RIR¦3 x 8¦8-¦-¦: ¦note:¦coach:¦- or ¦12 kg¦rest ¦Pair A¦Cycle 2¦any ¦tempo 2-0-x¦%"
)
NOISE = "\0¦\"¦,¦;¦<!-- ¦…–—½²歩\u202e¦99999999999999999999¦nan¦inf¦1e400¦[¦]]¦=¦{¦'''¦> ¦    "
BITS = st.sampled_from([b"\xff\xfe", *(bit.encode() for bit in f"{NOTATION}¦{NOISE}".split("¦"))])


def cut_up(text: bytes) -> st.SearchStrategy[bytes]:
    """The text with a few pieces cut out, doubled, or replaced by pieces of notation and noise."""
    places = st.integers(0, len(text))
    edit = st.tuples(places, st.integers(0, 40), st.one_of(BITS, st.binary(max_size=6)))

    def applied(edits: list[tuple[int, int, bytes]]) -> bytes:
        out = text
        for at, length, put in edits:
            out = out[:at] + put + out[at + length :]
        return out

    return st.one_of(
        st.lists(edit, min_size=1, max_size=8).map(applied),
        st.binary(max_size=200),
        st.lists(BITS, max_size=30).map(b"".join),
    )


def shown(findings: tuple[Finding, ...], file: str, data: bytes) -> None:
    """Both renderings of the findings work, and every finding points into the file."""
    text = render(findings, {file: text_of(data)}, width=80)
    assert "\x1b" not in text
    assert len(as_data(findings)) == len(set(findings))
    for finding in findings:
        assert finding.what
        assert finding.span is None or finding.span.line >= 1


@FUZZ
@given(cut_up(PROGRAMME))
def test_any_programme(data: bytes) -> None:
    programme, findings = read_programme(data, "programme.md", LIBRARY)
    shown((*findings, *check(programme, LIBRARY, House())), "programme.md", data)


@FUZZ
@given(cut_up(PROGRAMME))
def test_tidy_of_any_programme(data: bytes) -> None:
    text, findings = tidy(data, "programme.md", LIBRARY)
    shown(findings, "programme.md", data)
    if any(f.code.startswith("file-") and f.level == "error" for f in findings):
        return  # not read whole, and then `ferrule tidy` leaves the file alone
    assert tidy(text.encode(), "programme.md", LIBRARY)[0] == text, "tidying twice changes something"


@FUZZ
@given(cut_up(SQUAD))
def test_any_squad(data: bytes) -> None:
    squad, findings = read_squad(data, "squad.csv", LIBRARY)
    shown(findings, "squad.csv", data)
    assert len({r.id for r in squad.runners}) == len(squad.runners)


@FUZZ
@given(cut_up(HOUSE))
def test_any_house_rules(data: bytes) -> None:
    house, findings = read_house(data, "house.toml")
    shown(findings, "house.toml", data)
    assert all(isinstance(value, float | int) for value in house.changed.values())


@FUZZ
@given(cut_up((files("ferrule.library") / "families" / "step.toml").read_bytes()))
def test_any_own_exercises(data: bytes) -> None:
    library, findings = load_library({"own.toml": data})
    shown(findings, "own.toml", data)
    assert set(LIBRARY.variants) <= set(library.variants)
