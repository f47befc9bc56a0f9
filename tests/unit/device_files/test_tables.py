"""Whatever wrote it, it is a table or one line that says why not."""

from __future__ import annotations

import zipfile
from io import BytesIO

import pytest

from sim.device_files import tables as module
from sim.device_files.tables import read_table
from sim.errors import InputError
from tests.unit.device_files.made import workbook


def bomb() -> bytes:
    place = BytesIO()
    with zipfile.ZipFile(place, "w") as file:
        file.writestr("hello.txt", "x")
    return place.getvalue()


@pytest.mark.parametrize(
    ("data", "complaint"),
    [
        (b"", "must be a table: two columns or more"),
        (b"one\ntwo\n", "must be a table: two columns or more"),
        (b"a,b\n", "must have a row below"),
        (b"\xd0\xcf\x11\xe0\xa1", "got an old XLS file: save it as XLSX"),
        (b"PK\x03\x04rubbish", "must be a spreadsheet in XLSX that can be read (got BadZipFile)"),
        (bomb(), "must be a spreadsheet in XLSX that can be read"),
        (b"a,b\n\x00,1\n", "must be text in UTF-8, UTF-16 or Windows-1252, or XLSX"),
        (b"\xff\xfea", "must be text in UTF-8, UTF-16 or Windows-1252, or XLSX"),
        (workbook(A=[["a", "b"], [1, 2]], B=[["c", "d"], [1, 2]]), "--sheet: must be given: there are A and B (got none)"),
        (workbook(A=[]), "must be a table"),
    ],
)  # fmt: skip
def test_what_is_no_table_is_one_line(data: bytes, complaint: str):
    with pytest.raises(InputError) as caught:
        read_table(data, "a.csv")
    assert len(caught.value.problems) == 1 and complaint in str(caught.value)


def test_a_sheet_can_be_named():
    data = workbook(A=[["a", "b"], [1, 2]], B=[["c", "d"], [3.5, "x"]])
    assert read_table(data, "a.xlsx", sheet="B").rows == ((2, (3.5, "x")),)
    with pytest.raises(InputError, match=r"--sheet: must name a sheet: A or B \(got .C.\)"):
        read_table(data, "a.xlsx", sheet="C")


def test_lines_above_the_names_are_passed_over():
    text = "Exported by somebody\nOn, a day\n\nname;m;s\nA;1,5;2\nB;2,5;3\n"
    found = read_table(text.encode(), "a.csv")
    assert found.head == ("name", "m", "s") and found.rows == ((5, ("A", "1,5", "2")), (6, ("B", "2,5", "3")))
    assert found.said == "UTF-8, semicolons"


def test_names_we_know_decide_between_readings():
    text = b"a;b,c\n1;2,3\n"
    assert read_table(text, "a.csv", {frozenset({"a", "b,c"})}).head == ("a", "b,c")
    assert read_table(text, "a.csv", {frozenset({"a;b", "c"})}).head == ("a;b", "c")


def test_too_much_is_refused(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(module, "MOST_ROWS", 2)
    with pytest.raises(InputError, match=r"at most 2 rows \(got 3\)"):
        read_table(b"a,b\n1,2\n1,2\n1,2\n", "a.csv")
    monkeypatch.setattr(module, "MOST_BYTES", 2**20)
    with pytest.raises(InputError, match="at most 1 MB"):
        read_table(b"x" * (2**20 + 1), "a.csv")
