"""Every change reads again, and changes what it says it changes."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.fit.one_change_edits import Edit, edits
from ferrule.fit.one_change_test import TEXT
from ferrule.model.exercise import Library
from ferrule.model.finding import has_errors
from ferrule.model.programme import Block, Item
from ferrule.programme.reader import read_programme


def lines(library: Library) -> Iterator[tuple[Item, Block]]:
    programme, _ = read_programme(TEXT, "p.md", library)
    for session in programme.cycles[0].sessions:
        for block in session.blocks:
            for item in block.items:
                yield item, block


def test_every_edit_reads_and_changes_its_own_line_only(library: Library) -> None:
    given = [v for n in ("Press-up, knees", "Squat, half") if (v := library.find(n)) is not None]
    kinds = set()
    for item, block in lines(library):
        for edit in edits(TEXT, item, block, given):
            kinds.add(edit.kind)
            _, findings = read_programme(edit.text, "p.md", library)
            assert not has_errors(findings), edit
            _is_what_it_says(edit)
    assert kinds == {"alternative", "effort", "range", "rounds", "swap"}


def _is_what_it_says(edit: Edit) -> None:
    before, after = TEXT.split("\n"), edit.text.split("\n")
    for at, old, new in edit.lines:
        assert after[at - 1].strip() == new
        if old:
            assert before[at - 1].strip() == old
    put_in = [at - 1 for at, old, _ in edit.lines if not old]
    rest = [row for n, row in enumerate(after) if n not in put_in]
    same = {at - 1 for at, old, _ in edit.lines if old}
    assert [r for n, r in enumerate(before) if n not in same] == [r for n, r in enumerate(rest) if n not in same]


def test_an_alternative_stands_under_the_notes_and_a_swap_takes_its_table_rows_along(library: Library) -> None:
    item, block = next(lines(library))
    knees = library.find("Press-up, knees")
    assert knees is not None
    by_kind = {e.kind: e for e in edits(TEXT, item, block, [knees])}
    rows = by_kind["alternative"].text.split("\n")
    assert rows[item.span.line : item.span.line + 2] == ["  note: Chest to the floor.", "  - or Press-up, knees"]
    assert "| Press-up, knees: RIR" in by_kind["swap"].text
    assert next(old for _, old, _ in by_kind["swap"].lines).startswith("- Press-up:")


def test_a_written_load_may_be_dropped(library: Library) -> None:
    text = TEXT.replace("- Squat: 8", "- Squat: 8, 20 kg at chest")
    programme, _ = read_programme(text, "p.md", library)
    block = programme.cycles[0].sessions[1].blocks[0]
    assert any(e.kind == "load" and "kg" not in e.lines[0][2] for e in edits(text, block.items[0], block, []))
