"""What devices measured is kept with the file as it came, once, and can be taken back."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from sim.device_files.amending import amended
from sim.errors import InputError
from sim.own_counts.delivered import Delivered, amend, deliveries, delivery_of, keep, original, row_at, take_back
from sim.own_counts.exchange import filled, tables_of
from sim.own_counts.logbook import opened
from tests.support.writers import killed

ROOT = Path(__file__).resolve().parents[3]
BYTES = bytes(range(256)) * 3
ALI = Delivered(
    2, "2026-11-28", "4v2", "Ali", 8.0, "Game", 1, "inside", 512.5, 3.25, "19.8 km/h", 0.0, "25.2 km/h", 14, 12, 21.5
)
BO = Delivered(3, "2026-11-28", "warm-up", "Bo", 10.0)


def test_a_file_comes_back_to_the_byte_and_its_rows_to_the_letter(tmp_path: Path):
    with opened(tmp_path / "club.log") as book:
        assert keep(book, "a.xlsx", BYTES, "tracker", [ALI, BO]) == (1, True)
        assert keep(book, "again.xlsx", BYTES, "tracker", [ALI, BO]) == (1, False)
        (found,) = deliveries(book)
        assert found.rows == (ALI, BO) and (found.name, found.layout, found.taken_back) == ("a.xlsx", "tracker", "")
        assert original(book, found) == BYTES


def test_no_row_comes_twice_and_a_file_that_was_taken_back_makes_room(tmp_path: Path):
    with opened(tmp_path / "club.log") as book:
        keep(book, "a.csv", b"1", "tracker", [ALI])
        with pytest.raises(
            InputError, match=r"line 2: Ali in '4v2' of 2026-11-28 must be new \(got it already from file 1"
        ):
            keep(book, "b.csv", b"2", "tracker", [BO, ALI])
        assert len(deliveries(book)) == 1
        take_back(book, 1, "Ann", "wrong unit")
        assert deliveries(book)[0].taken_back == "Ann: wrong unit"
        assert keep(book, "a.csv", b"1", "tracker", [ALI]) == (2, True)
        with pytest.raises(InputError, match="must be a file that counts"):
            take_back(book, 1, "Ann", "again")
        with pytest.raises(InputError, match="must name a file of the logbook"):
            delivery_of(book, 7)


def test_an_export_without_names_has_no_original(tmp_path: Path):
    with opened(tmp_path / "club.log") as book, opened(tmp_path / "new.log") as new:
        keep(book, "a.csv", b"Ali", "tracker", [ALI])
        filled(new, tables_of(book, names=False))
        (found,) = deliveries(new)
        assert found.rows[0].player == "" and found.rows[0].metres == 512.5
        with pytest.raises(InputError, match="must hold file 1 as it came"):
            original(new, found)


def test_a_single_row_is_put_right_or_withdrawn_and_what_was_there_stays(tmp_path: Path):
    with opened(tmp_path / "club.log") as book:
        keep(book, "a.csv", b"1", "tracker", [ALI, BO])
        (found,) = deliveries(book)
        amend(book, found, row_at(found, 2), amended(ALI, ["metres=480", "bout="]), "Ann", "wore it late")
        amend(book, found, BO, [], "Ann", "another man's vest")
        (after,) = deliveries(book)
        assert after.rows == (replace(ALI, metres=480.0, bout=None),)
        told = [(one.line, one.who, one.why, one.field, one.before, one.after) for one in after.amended]
        assert told == [
            (2, "Ann", "wore it late", "metres", "512.5", "480"), (2, "Ann", "wore it late", "bout", "1", ""),
            (3, "Ann", "another man's vest", "withdrawn", "", "yes"),
        ]  # fmt: skip
        assert all(one.made.endswith("+00:00") for one in after.amended)
        with pytest.raises(InputError, match="must be a line of file 1 that counts"):
            row_at(after, 3)
        assert keep(book, "b.csv", b"2", "tracker", [BO]) == (2, True)  # a row that was withdrawn makes room
        other = replace(BO, player="Cy")
        keep(book, "c.csv", b"3", "tracker", [other])
        third = deliveries(book)[2]
        with pytest.raises(InputError, match=r"must be new: Bo in 'warm-up'"):
            amend(book, third, other, [("player", "Cy", "Bo")], "Ann", "wrong name")


def test_what_was_put_right_goes_out_and_comes_back_without_names(tmp_path: Path):
    with (
        opened(tmp_path / "club.log") as book,
        opened(tmp_path / "new.log") as new,
        opened(tmp_path / "own.log") as own,
    ):
        keep(book, "a.csv", b"1", "tracker", [ALI])
        amend(book, deliveries(book)[0], ALI, amended(ALI, ["player=Alice Ott", "minutes=7.5"]), "Ann", "misread")
        filled(own, tables_of(book, names=True))
        assert deliveries(own) == deliveries(book)
        tables = tables_of(book, names=False)
        assert "Alice" not in repr(tables) and "Ali" not in repr(tables)
        filled(new, tables)
        (row,) = deliveries(new)[0].rows
        assert (row.player, row.minutes) == ("", 7.5)


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        ("metres=many", 'metres must be a number (got "many")'),
        ("metres=nan", 'metres must be a number (got "nan")'),
        ("accelerations=1.5", 'accelerations must be a whole number (got "1.5")'),
        ("minutes=", "minutes must be given (got nothing)"),
        ("minutes=0", "must leave a row that can be (got one of no duration"),
        ("metres=-4", "must leave a row that can be (got one metres must be 0 or more (got -4)"),
        ("fast_metres=900", "must leave a row that can be (got one more fast metres than metres in all"),
        ("player=", "player must name somebody (got nothing)"),
        ("day=2026-11-27", "must read FIELD=VALUE, FIELD one of player, role, bout"),
        ("metres", "must read FIELD=VALUE"),
        ("metres=512.5", "must change something (got metres=512.5, as it is)"),
    ],
)
def test_a_row_that_cannot_be_is_refused(typed: str, rule: str):
    with pytest.raises(InputError) as caught:
        amended(ALI, [typed])
    assert str(caught.value).startswith(f"FIELD=VALUE: {rule}")
    with pytest.raises(InputError, match="fast_metres must stay empty"):
        amended(replace(BO, metres=600.0), ["fast_metres=3"])


WRITER = """
import sys
from pathlib import Path
from sim.own_counts.delivered import Delivered, keep
from sim.own_counts.logbook import opened
with opened(Path(sys.argv[1])) as book:
    for n in range(int(sys.argv[3])):
        keep(book, "f", f"{sys.argv[2]} {n}".encode(), "t", [Delivered(n, "2026-11-28", str(n), sys.argv[2], 8.0)] * 3)
        sys.stdout.write(f"{n}\\n")
        sys.stdout.flush()
"""


def writer(path: Path, name: str, files: int) -> subprocess.Popen[str]:
    """Keeps so many files, each of three rows, and says each number when it is kept."""
    line = [sys.executable, "-c", WRITER, str(path), name, str(files)]
    return subprocess.Popen(line, cwd=ROOT, stdout=subprocess.PIPE, text=True)


@pytest.mark.slow
def test_a_file_that_was_said_to_be_kept_is_there_whole_after_a_kill(tmp_path: Path):
    path, lot, said = tmp_path / "club.log", random.Random(3), {}
    for name in "abc":
        process = writer(path, name, 5000)
        assert process.stdout.readline() == "0\n"  # it is writing
        time.sleep(lot.uniform(0.0, 0.05))
        said[name] = 1 + len(killed(process))
    with opened(path) as book:
        found = deliveries(book)
        assert all(len(one.rows) == 3 and original(book, one) for one in found)
    for name, count in said.items():
        assert count <= sum(one.rows[0].player == name for one in found) <= count + 1


def test_two_programs_at_once_lose_no_file(tmp_path: Path):
    opened(tmp_path / "club.log").connection.close()
    both = [writer(tmp_path / "club.log", name, 15) for name in ("a", "b")]
    for one in both:
        one.communicate(timeout=120)
    assert [one.returncode for one in both] == [0, 0]
    with opened(tmp_path / "club.log") as book:
        assert sorted(one.rows[0].place for one in deliveries(book)) == sorted(
            ("2026-11-28", str(n), None, name) for n in range(15) for name in ("a", "b")
        )
