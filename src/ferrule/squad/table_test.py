"""Files as they come: separators, quotes, encodings, and what is no table at all."""

from __future__ import annotations

import pytest

from ferrule.squad.table import MOST_BYTES, Table, read_table

GOOD = "id,name,kit\nR01,Arla T,mat; chair\nR02,Bram K,mat\n"


def cells(table: Table) -> list[tuple[str, str, str]]:
    return [(r.cell("id").plain, r.cell("name").plain, r.cell("kit").plain) for r in table.rows]


@pytest.mark.parametrize(
    "data",
    [
        GOOD.encode(),
        b"\xef\xbb\xbf" + GOOD.encode(),
        GOOD.replace("\n", "\r\n").encode(),
        GOOD.replace("\n", "\r").encode(),
        GOOD.encode("utf-16"),
        b"\n\n" + GOOD.encode() + b"\n,,\n",
        b'id;name;kit\nR01;Arla T;"mat; chair"\nR02;Bram K;mat\n',
        b'sep=;\r\nid;name;kit\r\nR01;Arla T;"mat; chair"\r\nR02;Bram K;mat\r\n',
        b"id\tname\tkit\nR01\tArla T\tmat; chair\nR02\tBram K\tmat",
        b'"id","name","kit"\n"R01","Arla T","mat; chair"\n"R02","Bram K","mat"\n',
        b"Kit,ID, Name \nmat; chair,R01,Arla T\nmat,R02,Bram K\n",
    ],
)
def test_every_usual_way_of_saving_is_read(data: bytes) -> None:
    table, findings = read_table(data, "squad.csv")
    assert cells(table) == [("R01", "Arla T", "mat; chair"), ("R02", "Bram K", "mat")]
    assert findings == []


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty-file"),
        (b" \r\n\r\n", "empty-file"),
        (b"\xef\xbb\xbf", "empty-file"),
        (b",,\n,,\n", "empty-file"),
        (b"PK\x03\x04 rest of a workbook", "not-text"),
        (b"%PDF-1.7", "not-text"),
        (b"id,name\nR01,\x00\x01\x02", "not-text"),
        (b"\xff\xfe\x00", "not-text"),
        (b"x" * (MOST_BYTES + 1), "too-big"),
        (b"id,name\n" + b"R01,Arla\n" * 1_200_000, "too-big"),
        (b"first,second\nR01,Arla T\n", "no-heading"),
        (b"id,name\n\n", "no-runners"),
    ],
)
def test_what_is_no_squad_file_is_one_finding(data: bytes, code: str) -> None:
    table, findings = read_table(data, "squad.csv")
    assert table.rows == ()
    assert [f.code for f in findings] == [code]
    assert findings[0].level == "error"
    assert findings[0].fix


def test_ten_megabytes_are_refused_with_their_size() -> None:
    _, findings = read_table(GOOD.encode() + b"R03,Celyn O,mat\n" * 650_000, "squad.csv")
    assert "10.4 MB" in findings[0].what


def test_another_encoding_is_read_and_told_with_its_line() -> None:
    table, findings = read_table("id,name,kit\nR01,Arla,mat\nR02,Zoé,mat\n".encode("cp1252"), "squad.csv")
    assert cells(table)[1][1] == "Zoé"
    assert [(f.code, f.span.line if f.span else 0) for f in findings] == [("wrong-encoding", 3)]
    assert "Zoé" in findings[0].what


def test_a_lost_quote_costs_one_row_its_certainty_and_no_row_itself() -> None:
    data = b'id,name,kit\nR01,Arla T,"mat; chair\nR02,Bram K,"mat, stair"\nR03,Celyn O,mat\n'
    table, findings = read_table(data, "squad.csv")
    assert cells(table) == [("R01", "Arla T", "mat; chair"), ("R02", "Bram K", "mat, stair"), ("R03", "Celyn O", "mat")]
    assert [(f.code, str(f.span)) for f in findings] == [("unclosed-quote", "squad.csv:2:3")]
    assert [r.unsure for r in table.rows] == [True, False, False]


def test_a_file_cut_off_inside_a_quoted_cell() -> None:
    table, findings = read_table(b'id,name,kit,health\nR01,Arla T,mat,no\nR02,Bram K,"mat; dumbb', "squad.csv")
    assert cells(table)[1] == ("R02", "Bram K", "mat; dumbb")
    assert [(f.code, str(f.span)) for f in findings] == [("unclosed-quote", "squad.csv:3:3")]
    assert "mat; dumbb" in findings[0].what


def test_a_cell_over_several_lines_is_one_cell() -> None:
    data = b'id,name,kit\nR01,Arla T,"mat\nchair\n\nstair"\nR02,Bram K,mat\n'
    table, findings = read_table(data, "squad.csv")
    assert cells(table)[0][2] == "mat\nchair\n\nstair"
    assert [r.line for r in table.rows] == [2, 6]
    assert findings == []


def test_cells_beyond_the_heading_are_told() -> None:
    table, findings = read_table(b"id,name,kit\nR01,Arla T,mat,chair,stair\nR02,Bram K,mat,,\n", "squad.csv")
    assert [(f.code, str(f.span)) for f in findings] == [("extra-cell", "squad.csv:2:4")]
    assert '"chair"' in findings[0].what
    assert [r.unsure for r in table.rows] == [True, False]


def test_columns_that_are_unknown_misspelt_double_or_missing() -> None:
    _, findings = read_table(
        b"name,shoe size,limts,kit,equipment\nArla T,39,left calf: nothing,mat,chair\n", "squad.csv"
    )
    told = {(f.code, f.level, f.span.column if f.span else 0) for f in findings}
    assert told == {
        ("unknown-column", "note", 2),
        ("unknown-column", "error", 3),
        ("column-twice", "error", 5),
        ("missing-column", "error", 1),
    }
    assert any("`limits`" in f.what for f in findings)


def test_many_lost_quotes_lose_no_row() -> None:
    table, findings = read_table(b"id,name,kit\n" + b'R01,"Arla,mat\n' * 3000, "squad.csv")
    assert len(table.rows) == 3000
    assert len(findings) == 3000
