"""`overload import`, as typed: a draft, a dry run, the logbook; and nothing written where something is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import tomli_w

from sim.own_counts.delivered import deliveries
from sim.own_counts.logbook import opened
from tests.cli.test_tally import ask
from tests.support.screens import holds
from tests.unit.device_files.made import PLAIN, TODAY, rows

ALI = "Ali,2026-11-28,4v2 end,8,512.5,3,14,21.5"
BO = "Bo,2026-11-28,4v2 end,8,498,0,12,20.1"
TOTAL = "Total,2026-11-28,4v2 end,8,1010.5,3,26,"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OVERLOAD_LOGBOOK", raising=False)
    monkeypatch.setattr("cli.days.today", lambda: TODAY)
    (tmp_path / "layouts.toml").write_text(tomli_w.dumps({"tracker": PLAIN}), encoding="utf-8")
    (tmp_path / "loads.csv").write_text(rows(ALI, BO, TOTAL), encoding="utf-8")
    return tmp_path


def test_a_dry_run_keeps_nothing_and_says_how_to(here: Path):
    found = ask("import", "loads.csv", "--json", "out.json").stdout
    holds(found)
    assert "2 of 3 rows can be kept" in found and "Nothing is kept yet. To keep it:" in found
    assert "  overload import loads.csv --keep" in found
    assert sorted(one.name for one in here.iterdir()) == ["layouts.toml", "loads.csv", "out.json"]
    plain = json.loads((here / "out.json").read_text(encoding="utf-8"))
    assert plain["read"] == 3 and [one["player"] for one in plain["kept"]] == ["", ""]
    assert '"Ali"' in ask("import", "loads.csv", "--json", "-", "--names").stdout


def test_a_file_is_kept_to_the_byte_once_and_can_be_taken_back(here: Path):
    env = {"OVERLOAD_LOGBOOK": "club.log"}
    kept = ask("import", "loads.csv", "--keep", env=env).stdout
    holds(kept)
    assert "Kept as file 1, as it came." in kept
    assert "Already in club.log as file 1" in ask("import", "loads.csv", "--keep", env=env).stderr
    with opened(here / "club.log") as book:
        assert [one.player for one in deliveries(book)[0].rows] == ["Ali", "Bo"]
    assert "File 1: loads.csv, two rows" in ask("logbook", "list", env=env).stdout
    ask("logbook", "original", "1", "--out", "copy.csv", env=env)
    assert (here / "copy.csv").read_bytes() == (here / "loads.csv").read_bytes()
    ask("logbook", "take-back", "1", "--who", "Ann", "--why", "wrong day", env=env)
    assert "taken back (Ann: wrong day)" in ask("logbook", "list", env=env).stdout
    ask("logbook", "export", "out", env=env)
    assert not any("Ali" in one.read_text(encoding="utf-8") for one in (here / "out").iterdir())


def test_one_row_of_a_file_is_put_right_as_a_count_is(here: Path):
    env = {"OVERLOAD_LOGBOOK": "club.log"}
    ask("import", "loads.csv", "--keep", env=env)
    said = ["--file", "1", "--who", "Ann", "--why", "wore it late"]
    right = ask("logbook", "correct", "2", "metres=480", *said, env=env).stdout
    assert "File 1 (loads.csv), line 2:" in right and "metres: 480" in right
    assert "Ann: metres 512.5 -> 480 (wore it late)" in right
    assert "withdrawn: it does not count" in ask("logbook", "correct", "3", "--withdraw", *said, env=env).stdout
    assert "File 1: loads.csv, one row, handed in on" in (listed := ask("logbook", "list", env=env).stdout)
    assert "line 2 put right; line 3 withdrawn." in listed
    assert ask("logbook", "show", "2", "--file", "1", env=env).stdout == right
    assert "480" in ask("review", "--by-player", env=env).stdout
    for line, complaint in (
        (["correct", "3", "metres=1", *said], "ROW: must be a line of file 1 that counts (got 3)"),
        (["correct", "2", "metres=1", "--file", "1"], "--who: must be given"),
        (["correct", "2", "metres=1", "--file", "9", *said[2:]], "FILE: must name a file of the logbook"),
        (["show", "9", "--file", "1"], "ROW: must be a line of file 1 that was kept (got 9)"),
    ):
        assert ask("logbook", *line, env=env, code=2).stderr.startswith(complaint)


def test_a_draft_is_written_once_and_then_checked(here: Path):
    (here / "new.csv").write_text("Player;Dauer;Distance (m)\nAli;8;500\n", encoding="utf-8")
    assert "no layout" not in ask("import", "new.csv", "--draft", "session").stdout
    text = (here / "layouts.toml").read_text(encoding="utf-8")
    assert text.startswith(tomli_w.dumps({"tracker": PLAIN})) and "[session]" in text
    assert "[session].duration_unit must name something" in ask("import", "new.csv", code=2).stderr
    (here / "layouts.toml").write_text(
        text.replace("checked = false", "checked = true").replace('duration_unit = ""', 'duration_unit = "min"'),
        encoding="utf-8",
    )
    assert "1 of one row can be kept" in ask("import", "new.csv", "--date", "2026-11-28").stdout
    assert "must be of new columns" in ask("import", "new.csv", "--draft", "other", code=2).stderr


@pytest.mark.parametrize(
    ("text", "line", "complaint"),
    [
        (rows(ALI), ["none.csv", "--keep"], "FILE: must name a file that can be read"),
        ("a,b\n1,2\n", ["loads.csv", "--keep"], "loads.csv: must have a layout in layouts.toml: overload import"),
        (rows(TOTAL), ["loads.csv", "--keep"], "loads.csv: must have a row that can be kept (got none; line 2: a total"),
        (rows(ALI.replace("512.5", "0.5").replace(",3,", ",0,")), ["loads.csv", "--keep"], "loads.csv: [tracker].distance_unit"),
        (rows(ALI.replace("2026-11-28", "05.11.2026")), ["loads.csv"], "loads.csv: [tracker].date_order must say"),
        (rows(ALI), ["loads.csv", "--date", "2999-01-01"], "--date: must not be in the future"),
        (rows(ALI), ["loads.csv", "--date", "soon"], "--date: must be year-month-day"),
        (rows(ALI), ["loads.csv", "--squad", "none.csv"], "--squad: must name a file that can be read"),
        (rows(ALI), ["loads.csv", "--keep"], "--logbook: must name your logbook"),
        ("\0\0", ["loads.csv"], "loads.csv: must be text in UTF-8"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_one_line_and_nothing_is_written(here: Path, text: str, line: list[str], complaint: str):
    (here / "loads.csv").write_text(text, encoding="utf-8")
    more = [] if complaint.startswith("--logbook") else ["--logbook", "club.log"]
    found = ask("import", *line, *more, code=2)
    assert found.stdout == "" and len(found.stderr.splitlines()) == 1 and found.stderr.startswith(complaint), (
        found.stderr
    )
    assert sorted(one.name for one in here.iterdir()) == ["layouts.toml", "loads.csv"]
