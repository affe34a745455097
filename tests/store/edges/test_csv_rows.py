"""Tables from outside, against RFC 4180 and against anything that is no table at all."""

from __future__ import annotations

import io
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.tables.fields import hours, text
from store.edges.tables.rows import LONGEST_LINE, Column, Line, NoTable, opened, rows
from store.trouble import Refused


def style(comma: bool) -> tuple[Column, ...]:
    """Two columns that must be there and one that may."""
    return (
        Column("who", text),
        Column("hours", hours(comma=comma)),
        Column("note", text, needed=False),
    )


def read(table: str, renamed: Mapping[str, str] | None = None) -> list[Line]:
    """Every row of a table."""
    return list(rows(io.StringIO(table, newline=""), style, renamed))


def values(table: str, renamed: Mapping[str, str] | None = None) -> list[list[object]]:
    """The values of rows that have no fault."""
    found = read(table, renamed)
    assert [one.faults for one in found] == [()] * len(found)
    return [list(one.values.values()) for one in found]


def refused(table: str, renamed: Mapping[str, str] | None = None) -> str:
    """What is said of a table that cannot be read."""
    with pytest.raises(NoTable) as caught:
        read(table, renamed)
    return str(caught.value)


def faults(table: str) -> list[str]:
    """What is wrong with single rows."""
    return [str(fault) for one in read(table) for fault in one.faults]


# RFC 4180, section 2: rule 1 CRLF, 2 the last break may lack, 5 quotes, 6 commas in quotes,
# 7 a quotation mark in quotes is doubled.
@pytest.mark.parametrize(
    "table",
    [
        'who,hours\r\nA,1\r\nB,2\r\n',
        'who,hours\r\nA,1\r\nB,2',
        '"who","hours"\r\n"A","1"\r\n"B",2\r\n',
        'who,hours\nA,1\nB,2\n',
        'who,hours\rA,1\rB,2\r',
        'hours,who\r\n1,A\r\n2,B\r\n',
        'who,hours,note,other\r\nA,1,,x\r\nB,2,,"y\r\nz"\r\n',
        'who,hours\r\nA,1\r\n\r\n  \r\n,\r\nB,2\r\n'.replace("  \r\n", ""),
        'who;hours\r\nA;1,0\r\nB;2\r\n',
        'who\thours\r\nA\t1,0\r\nB\t2.0\r\n',
    ],
)  # fmt: skip
def test_the_same_table_in_many_forms(table: str) -> None:
    assert values(table) == [["A", 1.0], ["B", 2.0]]


def test_quoted_fields_hold_commas_and_quotation_marks() -> None:
    assert values('who,hours,note\r\n"A, the ""first""",1,b\r\n') == [['A, the "first"', 1.0, "b"]]


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    found = read('who,hours,other\r\nA,1,"x\r\ny"\r\nB,no,z\r\n\r\nC,-1,\r\n')
    assert [one.line for one in found] == [2, 4, 6]
    assert [str(fault)[:12] for one in found for fault in one.faults] == [
        "line 4: hour",
        "line 6: hour",
    ]


def test_every_fault_of_a_row_is_named_with_what_to_do() -> None:
    assert faults("who,hours,note\n,x,\x07\n") == [
        "line 2: who is empty: fill it in.",
        "line 2: hours 'x' is no number: write hours like 2.5.",
        "line 2: note holds a line break or a sign that cannot be shown: take it out.",
    ]


def test_a_row_of_another_width_is_a_fault_and_the_next_is_read() -> None:
    assert [(one.line, bool(one.faults)) for one in read("who,hours\nA\nA,1,2\nA,1,\nB,2\n")] == [
        (2, True), (3, True), (4, False), (5, False),
    ]  # fmt: skip


def test_a_stray_quotation_mark_costs_its_row_only() -> None:
    found = read('who,hours\n"A"x,1\nB,2\n')
    assert [(one.line, len(one.faults)) for one in found] == [(2, 1), (3, 0)]


def test_an_open_quotation_mark_is_said() -> None:
    assert faults('who,hours\nA,1\n"B,2\nC,3\n') == [
        "line 3: a quotation mark is opened and never closed, so all after it is lost: close it."
    ]


def test_other_headings_are_named() -> None:
    renamed = {"Mechanic": "who", "Time=h": "hours"}
    assert values("Mechanic,Time=h,hours\nA,1,x\n", renamed) == [["A", 1.0]]
    assert "no column is called 'Mechanic': it has who, hours" in refused("who,hours\n", renamed)


@pytest.mark.parametrize(
    "table, words",
    [
        ("", "line 1: the file is empty. Its first line names the columns: who, hours"),
        ("who\nA\n", "line 1: lacks hours. If a column has another heading"),
        ("Who,Hours\n", "--map 'Who'=who"),
        ("who,hours,who\n", "line 1: the column who is there twice"),
        ("PK\x03\x04\x00\x00\n", "line 1: this is no CSV text"),
        ("\udcff\udcfew\x00h\x00\n", "line 1: this is no CSV text"),
        ('"who,hours\nA,1\n', "line 1: a quotation mark is opened and never closed"),
        ("x" * (LONGEST_LINE + 1), "a line has no end"),
    ],
)
def test_what_is_no_table_is_refused(table: str, words: str) -> None:
    assert words in refused(table)


def test_a_field_without_end_is_a_fault() -> None:
    assert "a field is far too long" in faults(f"who,hours\n{'x' * 200_000},1\n")[0]


def test_a_file_is_read_with_or_without_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    for start in (b"", b"\xef\xbb\xbf"):
        path.write_bytes(start + "who,hours\nÄ,1\n".encode())
        with opened(path) as file:
            assert [one.values for one in rows(file, style)] == [{"who": "Ä", "hours": 1.0}]


def test_bytes_that_are_no_text_are_a_fault_of_their_row(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes("who,hours\nÄ,1\n".encode("latin-1") + b"B,2\n")
    with opened(path) as file:
        found = list(rows(file, style))
    assert [str(one) for one in found[0].faults] == [
        "line 2: who holds bytes that are no UTF-8 text: save the file as UTF-8."
    ]
    assert not found[1].faults


def test_a_file_that_cannot_be_read_is_said(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="No such file"), opened(tmp_path / "none.csv"):
        pass
    with pytest.raises(Refused, match="directory"), opened(tmp_path):
        pass
    empty = tmp_path / "empty.csv"
    empty.write_bytes(b"")
    with pytest.raises(NoTable, match=r"^empty.csv, line 1"), opened(empty) as file:
        list(rows(file, style))


signs = st.text(alphabet=st.sampled_from('ab,;"\n\r\t 1.5=\x00é\udcff'), max_size=60)


@given(st.one_of(signs, signs.map("who,hours\n{}".format), signs.map("who;hours\n{}".format)))
def test_whatever_it_holds_a_table_is_read_or_refused_in_one_line(table: str) -> None:
    found: list[Line] = []
    with suppress(NoTable):
        found = read(table)
    for one in found:
        assert one.faults or set(one.values) >= {"who", "hours"}
        assert all("\n" not in str(fault) for fault in one.faults)


@given(
    st.lists(st.tuples(st.text(alphabet='ab,;"é\t', min_size=1), st.floats(0.001, 1e5)), max_size=5)
)
def test_what_the_library_writes_is_read_back(table: list[tuple[str, float]]) -> None:
    import csv

    clean = [(who.strip() or "x", length) for who, length in table]
    clean = [("x" if "\t" in who else who, length) for who, length in clean]
    file = io.StringIO(newline="")
    csv.writer(file).writerows([("who", "hours"), *clean])
    assert values(file.getvalue()) == [list(pair) for pair in clean]
