"""The logbook: nothing finished is lost, nothing is changed, and what goes out comes back."""

from __future__ import annotations

import csv
import os
import random
import sqlite3
import subprocess
import sys
import threading
import time
from datetime import date
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.own_counts import logbook as module
from sim.own_counts import versions
from sim.own_counts.correcting import corrected
from sim.own_counts.delivered import Delivered, amend, delivery_of, keep, take_back
from sim.own_counts.exchange import as_csv, as_parquet, filled, from_csv, from_parquet, tables_of
from sim.own_counts.logbook import Logbook, back_up, opened
from sim.own_counts.planning import add_plan
from sim.own_counts.schema import MIGRATIONS, TABLES
from sim.own_counts.versions import migrate
from tests.support.writers import killed
from tests.unit.own_counts.byhand import TODAY, chance, forecast, row

KILLS = int(os.environ.get("OVERLOAD_KILLS", "15"))  # 200 take a minute
ROOT = Path(__file__).resolve().parents[3]
WRITER = """
import sys
import threading
from pathlib import Path
from sim.own_counts.logbook import opened
from sim.own_counts.tally import Row
name, first, last = sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
sys.stdout.write("ready\\n")
sys.stdout.flush()
sys.stdin.readline()
with opened(Path(sys.argv[1])) as book:
    for n in range(first, last):
        book.add_rows([Row("2026-11-29", 2.0, "watch", {"losses": n}, players=name)], "Game", "game", "s")
        sys.stdout.write(f"{n}\\n")
        sys.stdout.flush()
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "club.log"


def full(path: Path) -> Logbook:
    """A logbook with some of everything."""
    book = opened(path)
    found = forecast(chance(5.0, 8), key="f1")
    book.add_forecast(found, "Game", "game")
    rows = [row(5, 2.0, bout=1, players="Ali"), row(6, 1.25, bout=2, changed='one; touch,\n"x"', players="Bo")]
    sessions, _ = book.add_rows(rows, "Game", "game", "s")
    book.add_rows([row(day="2026-11-01", counts={"wins": 3, "losses": 0})], "Game", "game", "s")
    book.link(sessions[TODAY], "f1")
    book.correct(1, [("losses", "5", "4"), ("players", "Ali", "Cy")], "Ann", "counted twice")
    book.correct(3, [], "Ann", "another game")
    add_plan(book, found, "2026-12-05", "Game", "game")
    dee = Delivered(2, TODAY, "4v2", "Dee", 8.0, "Game", metres=512.5)
    number, _ = keep(book, "a.csv", b"Dee;1", "tracker", [dee])
    amend(book, delivery_of(book, number), dee, [("metres", "512.5", "498")], "Ann", "wore it late")
    take_back(book, number, "Ann", "wrong day")
    return book


def test_what_is_kept_comes_back(path: Path):
    full(path).connection.close()
    with opened(path) as book:
        early, late = book.evenings()
        assert [one.withdrawn for one in early.rows] == [True] and early.standing == []
        assert late.standing[0] == row(4, 2.0, bout=1, players="Cy")
        assert (late.forecast, early.forecast) == ("f1", None)
        assert book.forecast("f1").to_json() == forecast(chance(5.0, 8), key="f1").to_json()
        assert book.forecast("f2") is None and len(book.forecasts()) == 1
        assert [(one.field, one.before, one.after, one.who) for one in book.corrections()] == [
            ("losses", "5", "4", "Ann"), ("players", "Ali", "Cy", "Ann"), ("withdrawn", "", "yes", "Ann"),
        ]  # fmt: skip


def test_an_evening_is_judged_by_the_program_that_judged_it_first(path: Path):
    with full(path) as book:
        session = book.evenings()[1].id
        for key, sessions, engine in (("f2", 20, "e" * 12), ("f3", 90, "later"), ("f4", 12, "e" * 12)):
            found = forecast(chance(5.0, sessions), key=key)
            found.made["engine"] = engine
            book.add_forecast(found, "Game", "game")
            book.link(session, key)
        assert book.evenings()[1].forecast == "f2"  # more sessions of the same engine


def test_the_same_command_twice_writes_nothing_twice(path: Path):
    with opened(path) as book:
        rows = [row(5, 2.0), row(5, 2.0), row(6, 2.0, bout=3)]  # two bouts without a number that came out alike
        assert book.add_rows(rows[:1], "Game", "game", "s")[1] == 1
        assert book.add_rows(rows, "Game", "game", "s")[1] == 2
        assert book.add_rows(rows, "Game", "game", "s")[1] == 0
        with pytest.raises(InputError, match=r"bout 3 of .* must be new \(got other counts than row 3"):
            book.add_rows([row(1, 2.0, bout=9), row(7, 2.0, bout=3)], "Game", "game", "s")
        with pytest.raises(InputError, match=r"must be laid out as in session 1 \(got another set-up\)"):
            book.add_rows([row(5, 2.0)], "Game", "game", "other")
        assert len(book.evenings()) == 1 and len(book.evenings()[0].rows) == 3  # of what was refused nothing is there


def test_a_command_given_again_after_a_correction_adds_nothing(path: Path):
    rows = [row(5, 2.0, bout=1), row(6, 2.0, bout=2), row(7, 2.0)]
    with opened(path) as book:
        book.add_rows(rows, "Game", "game", "s")
        book.correct(1, [("losses", "5", "4"), ("bout", "1", "")], "Ann", "counted twice")
        book.correct(2, [], "Ann", "not ours")
        before = book.evenings()
        assert book.add_rows(rows, "Game", "game", "s")[1] == 0 and book.evenings() == before
        assert (
            book.add_rows([row(9, 2.0, bout=2)], "Game", "game", "s")[1] == 1
        )  # that of a row that was withdrawn is free
        assert book.add_rows([row(4, 2.0), row(5, 2.0, bout=1)], "Game", "game", "s")[1] == 1  # one row is one row


def test_a_correction_makes_no_bout_twice(path: Path):
    with opened(path) as book:
        book.add_rows([row(5, 2.0, bout=1), row(6, 2.0, bout=2), row(7, 2.0, bout=3)], "Game", "game", "s")
        with pytest.raises(InputError, match=r"FIELD=VALUE: bout must stand there once a day \(got 2, as in row 2\)"):
            book.correct(1, [("losses", "5", "4"), ("bout", "1", "2")], "Ann", "misread")
        assert book.corrections() == []
        book.correct(2, [], "Ann", "not ours")
        book.correct(1, [("bout", "1", "2")], "Ann", "misread")
        assert [one.bout for one in book.evenings()[0].standing] == [2, 3]


@pytest.mark.parametrize("table", TABLES)
def test_nothing_is_ever_changed_or_deleted(table: str, path: Path):
    with full(path) as book:
        for change in (f"DELETE FROM {table}", f"UPDATE {table} SET rowid = rowid + 1"):
            with pytest.raises(sqlite3.IntegrityError, match="only added to"):
                book.connection.execute(change)


def test_an_older_file_is_brought_up_in_one_step_or_not_at_all(path: Path):
    full(path).connection.close()
    more = "ALTER TABLE session ADD COLUMN weather TEXT NOT NULL DEFAULT '';"
    base = sqlite3.connect(path, isolation_level=None)
    with pytest.raises(sqlite3.OperationalError):
        migrate(base, (*MIGRATIONS, more, "ALTER TABLE nothing ADD COLUMN x;"))
    assert versions.number(base, "user_version") == len(MIGRATIONS)
    assert "weather" not in [one[1] for one in base.execute("PRAGMA table_info(session)")]
    migrate(base, (*MIGRATIONS, more))
    assert versions.number(base, "user_version") == len(MIGRATIONS) + 1
    assert base.execute("SELECT count(*) FROM session WHERE weather = ''").fetchone() == (2,)
    base.close()
    with pytest.raises(InputError, match="of a later program"):
        opened(path)


def test_what_is_no_logbook_is_one_line(tmp_path: Path):
    plain, other = tmp_path / "a.txt", tmp_path / "b.db"
    plain.write_text("hello " * 100, encoding="utf-8")
    with sqlite3.connect(other) as base:
        base.execute("CREATE TABLE mine (x)")
    base.close()
    for file, why in ((plain, "not a database"), (other, "database of something else"), (tmp_path, "a folder")):
        with pytest.raises(InputError, match=why):
            opened(file)
    with pytest.raises(InputError, match="no file"):
        opened(tmp_path / "none.log", new=False)
    assert plain.read_text(encoding="utf-8") == "hello " * 100 and not (tmp_path / "none.log").exists()


def test_a_file_that_another_program_holds_is_one_line(path: Path, monkeypatch: pytest.MonkeyPatch):
    full(path).connection.close()
    monkeypatch.setattr(module, "WAIT_S", 0.1)
    holder = sqlite3.connect(path, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with opened(path) as book, pytest.raises(InputError, match="another program has had it"):
        book.add_rows([row(9)], "Game", "game", "s")
    holder.execute("ROLLBACK")
    holder.close()


@pytest.mark.parametrize("way", ["csv", "parquet"])
def test_what_goes_out_comes_back_equal(way: str, path: Path, tmp_path: Path):
    if way == "parquet":
        pytest.importorskip("pyarrow")
    out, back = (as_csv, from_csv) if way == "csv" else (as_parquet, from_parquet)
    with full(path) as book:
        tables = tables_of(book, names=True)
        again = {table: back(table, out(table, rows), table) for table, rows in tables.items()}
        assert again == tables
        with opened(tmp_path / "second.log") as second:
            filled(second, again)
            assert tables_of(second, names=True) == tables
            assert second.evenings() == book.evenings()
            with pytest.raises(InputError, match="must be a new logbook"):
                filled(second, again)


def test_who_played_stays_at_home_unless_asked_for(path: Path):
    with full(path) as book:
        text = "".join(as_csv(table, rows) for table, rows in tables_of(book, names=False).items())
        assert not any(name in text for name in ("Ali", "Bo", "Cy", "Dee", "RGVl"))
        assert "Ann" in text and "counted twice" not in text


def test_words_of_ones_own_stay_at_home_too_but_not_that_a_bout_was_changed(path: Path):
    """Whoever writes why, or what was changed, may name a child."""
    with full(path) as book, opened(path.with_name("new.log")) as new:
        book.correct(1, [("changed", "", "Eve sat out")], "Ann", "Eve told me")
        with_names, without = (
            "".join(as_csv(table, rows) for table, rows in tables_of(book, names).items()) for names in (True, False)
        )
        told = ("Eve sat out", "Eve told me", "one; touch", "counted twice", "wore it late", "wrong day")
        assert all(one in with_names for one in told) and not any(one in without for one in told)
        filled(new, tables_of(book, names=False))
        assert [one.row.changed for evening in new.evenings() for one in evening.rows] == ["", "changed", "changed"]


def test_the_players_of_a_game_stay_at_home_too(path: Path):
    """The game of the forecast has written names, and one of them is on reduced load; what goes out comes back all the same."""
    found = forecast(chance(5.0, 8), key="f9")
    found.made["game"] = load_game("tests/cases/valid/written-ids.toml").model_dump(mode="json")
    theirs = [player["id"] for player in found.made["game"]["players"]]
    with full(path) as book, opened(path.with_name("new.log")) as new:
        book.add_forecast(found, "Game", "game")
        with_names, without = (
            "".join(as_csv(table, rows) for table, rows in tables_of(book, names).items()) for names in (True, False)
        )
        told = [*(f'""{one}""' for one in theirs), "restricted", "pass_success"]
        assert all(one in with_names for one in told)
        assert not any(one in without for one in told)
        filled(new, tables_of(book, names=False))
        assert new.forecast("f9").counts["losses"].tolist() == found.counts["losses"].tolist()
        assert [one.standing[0].counts for one in new.evenings()[1:]] == [{"losses": 4}]


def test_tables_that_are_wrong_are_refused_whole(path: Path):
    with full(path) as book, opened(path.with_name("new.log")) as new:
        tables = tables_of(book, names=True)
        with pytest.raises(InputError, match="belong together"):
            filled(new, tables | {"session": []})
        broken = [(*one[:5], "losses", "5", "many") for one in tables["correction"][:1]]
        with pytest.raises(InputError, match="belong together"):
            filled(new, tables | {"correction": broken})
        with pytest.raises(InputError, match="belong together"):
            filled(new, tables | {"forecast": [(*one[:-1], "{}") for one in tables["forecast"]]})
        assert new.evenings() == []
    with pytest.raises(InputError, match="line 1 must be id,session"):
        from_csv("tally", "id,bout\n1,2\n", "tally.csv")
    with pytest.raises(InputError, match="line 2 must be a row of the table judged"):
        from_csv("judged", "session,forecast\nx,y\n", "judged.csv")


def test_a_backup_is_a_whole_logbook_though_others_write(path: Path):
    with full(path) as book:
        other = opened(path)
        with other.writing() as base:
            base.execute(
                "INSERT INTO session (logged, day, game, typed, setup) VALUES ('', '2026-01-01', 'G', 'g', 'x')"
            )
            back_up(book, path.with_name("copy.log"))
        other.connection.close()
        with opened(path.with_name("copy.log")) as copy:
            assert len(copy.evenings()) == 2 and copy.corrections() == book.corrections()


def test_a_correction_must_make_a_possible_row():
    kept = row(5, 2.0, bout=1)
    today = date.fromisoformat(TODAY)
    assert corrected(kept, ["losses=4", "bout=", "minutes=2.5"], today) == [
        ("losses", "5", "4"), ("bout", "1", ""), ("minutes", "2", "2.5"),
    ]  # fmt: skip
    for typed, why in (
        ("losses", "must read FIELD=VALUE"), ("date=2026-01-01", "must read FIELD=VALUE"), ("losses=5", "must change something"),
        ("losses=-1", "FIELD=VALUE: losses must be from 0"), ("losses=", "FIELD=VALUE: losses must be given"),
        ("clock=sun", "FIELD=VALUE: clock must be watch"), ("minutes=", "FIELD=VALUE: minutes must be given"),
    ):  # fmt: skip
        with pytest.raises(InputError, match=why):
            corrected(kept, [typed], today)


def writer(path: Path, name: str, first: int, last: int) -> subprocess.Popen[str]:
    """Starts when it is told to on its input."""
    line = [sys.executable, "-c", WRITER, str(path), name, str(first), str(last)]
    return subprocess.Popen(
        line,
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )


def go(*processes: subprocess.Popen[str]) -> None:
    for process in processes:
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        process.stdin.write("\n")
        process.stdin.flush()


def in_order(path: Path) -> list[int]:
    with opened(path) as book:
        assert book.connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return [one.counts["losses"] for evening in book.evenings() for one in evening.standing]


@pytest.mark.slow
def test_what_was_said_to_be_kept_is_there_after_a_kill(path: Path):
    """A program that writes row after row is killed at a random moment, again and again on the same file."""
    lot, said = random.Random(12), []
    for _ in range(KILLS):
        process = writer(path, "a", len(said), 2000)
        go(process)
        said.append(int(process.stdout.readline()))  # it is writing
        time.sleep(lot.uniform(0.0, 0.05))
        said += map(int, killed(process))
        there = in_order(path)
        assert (
            there[: len(said)] == said and len(there) <= len(said) + 1
        )  # the last may have been kept and not yet said
        said = there


@pytest.mark.slow
def test_two_programs_at_once_lose_no_row(path: Path):
    both = [writer(path, "a", 0, 100), writer(path, "b", 200, 300)]
    go(*both)
    for process in both:
        process.communicate(timeout=120)
    assert [process.returncode for process in both] == [0, 0]
    assert sorted(in_order(path)) == [*range(100), *range(200, 300)]


def test_who_opens_a_new_logbook_while_another_begins_it_waits(path: Path):
    """SQLite refuses at once, however long it was told to wait, where another program is about to write to a new file."""
    other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN IMMEDIATE")
    over = threading.Timer(0.3, other.execute, ["COMMIT"])
    over.start()
    with opened(path) as book:
        assert book.evenings() == []
    over.join()
    other.close()


def test_reading_a_table_changes_nothing_for_other_readers_of_csv():
    """Python's limit on a cell holds for the whole process: a table of people must still be refused whose cell is endless."""
    before = csv.field_size_limit()
    from_csv("tally", as_csv("tally", []), "tally.csv")
    assert csv.field_size_limit() == before


def test_an_empty_file_is_no_logbook_to_read_from_and_stays_as_it_is(tmp_path: Path):
    place = tmp_path / "counts.csv"
    place.touch()
    with pytest.raises(InputError, match="must name a logbook .got .*counts.csv', which is empty."):
        opened(place, new=False)
    assert place.read_bytes() == b""
    opened(place).connection.close()  # to be kept in it may be begun
    opened(place, new=False).connection.close()
