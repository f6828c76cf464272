"""The review from the command line, on a workspace that was signed and logged."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.record import opened
from ferrule.cli.workspace import open_workspace
from ferrule.model.entry import LoggedSet
from ferrule.model.fact import Entry, Fact, PainTold, SessionTold

NOW = datetime(2026, 1, 6, 20, tzinfo=UTC)
MONDAY = date(2026, 1, 5)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starting workspace with one signed week of one runner, and what they told of it."""
    folder = tmp_path_factory.mktemp("review") / "w"
    assert main(["new", str(folder)]) == 0
    assert main(["sign", str(folder), "--week", "2026-01-05", "--runner", "R01", "--by", "A. Coach"]) == 0
    with opened(open_workspace(folder)) as record:
        copy = record.latest("R01", MONDAY)
        assert copy is not None
        session = copy.week.sessions[0]
        item = session.blocks[-1].items[0]
        facts: tuple[Fact, ...] = (
            SessionTold(session.day, session.key, "did", rating=6, minutes=31, copy_id=copy.copy_id),
            LoggedSet("s1", "R01", session.day, session.key, item.item_key, item.variant_id, 1, "counted", done=8, copy_id=copy.copy_id),
            PainTold(session.day, "knee", "left", 2, 0, session.key, item.item_key, words="only on the way down"),
        )  # fmt: skip
        record.add([Entry(f"e{n}", "R01", NOW, "page", fact) for n, fact in enumerate(facts)], NOW)
    return folder


def test_pages_for_the_coach_and_each_runner(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(folder), "--cycle", "1", "--out", str(tmp_path)]) == 0
    text = capsys.readouterr().out
    assert "the squad" in text
    assert "no week was signed" in text
    assert "Left knee: told once" in text
    names = sorted(p.name for p in tmp_path.iterdir())
    assert names == ["R01-2026-01-05-review.html", "review-cycle-1-2026-01-05.html"]
    page = (tmp_path / names[0]).read_text(encoding="utf-8")
    assert "only on the way down" in page
    assert "rated 6, 31 min" in page


def test_the_page_for_a_physiotherapist(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(folder), "--physio", "r01", "--out", str(tmp_path)]) == 0
    text = capsys.readouterr().out
    assert "2 during, 0 next morning" in " ".join(text.split())
    assert "left knee: nothing above ____" in text
    assert [p.name for p in tmp_path.iterdir()] == ["R01-2026-01-05-physio.html"]


def test_the_page_for_a_helping_coach(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(folder), "--hand-over", "--on", "2026-01-08", "--out", str(tmp_path)]) == 0
    text = capsys.readouterr().out
    assert "Hand-over, Thursday 8 January 2026" in text
    assert "nothing sent" in text
    assert [p.name for p in tmp_path.iterdir()] == ["hand-over.html"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--cycle", "9"], "has no cycle '9'"),
        (["--physio", "R99"], "has no runner 'R99'"),
        (["--physio", "R02"], "no week was sent to R02"),
        ([], "name a cycle"),
    ],
)
def test_what_is_not_there_is_said(
    folder: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", str(folder), *words]) == 2
    assert said in capsys.readouterr().err


def test_before_anything_is_signed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "n")]) == 0
    assert main(["review", str(tmp_path / "n"), "--cycle", "1"]) == 2
    assert "nothing has been signed" in capsys.readouterr().err
