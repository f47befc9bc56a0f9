"""Layouts are written down once, checked whole, and known again by the names of the columns."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomli_w

from sim.device_files.column_words import columns_in, threshold_in, unit_in
from sim.device_files.drafts import drafted
from sim.device_files.known_games import games_of
from sim.device_files.layouts import known_as, read_layouts, threshold_said, unlike
from sim.device_files.tables import Table, read_table
from sim.errors import InputError
from tests.unit.device_files.made import COMMAS, PLAIN, SESSION, layout, rows


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "layouts.toml"
    found.write_text(tomli_w.dumps({"plain": PLAIN, "commas": COMMAS, "session": SESSION}), encoding="utf-8")
    return found


def test_a_layout_is_known_again_by_its_columns_in_any_order_and_case(path: Path):
    found = read_layouts(path)
    assert list(found) == ["plain", "commas", "session"]
    assert known_as(found, ["DATUM", " spieler", "Übung", "Zeit", "Strecke  (km)", "Schnell (m)", ""]).name == "commas"
    assert known_as(found, ["Spieler", "Datum"]) is None
    assert unlike(found, ["Spieler", "Datum", "Übung", "Zeit", "Strecke (km)", "Rasch"]) == (
        'nearest is [commas], but without "schnell (m)" and with "rasch"'
    )
    assert unlike(found, ["x", "y"]) == "" and read_layouts(path.with_name("none.toml")) == {}


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"checked": False}, "checked must be true"),
        ({"checked": "yes"}, "checked must be true or false (got 'yes')"),
        ({"player": None}, "player must be given"),
        ({"player": "Who"}, "player must be one of the headers (got 'Who')"),
        ({"player": ""}, "player must name something, in quotes"),
        ({"duration_unit": "hours"}, "duration_unit must be min, s, h:mm:ss, mm:ss or h:mm (got 'hours')"),
        ({"distance_unit": None}, "distance_unit must be given: m or km"),
        ({"fast_from": "quick"}, "fast_from must be a speed, such as 19.8 km/h, 5.5 m/s or 80 % (got 'quick')"),
        ({"fast_from": None}, "fast_from must be given: from which speed on"),
        ({"decimal_mark": ","}, "decimal_mark must be point or comma (got ',')"),
        ({"date_order": "first"}, "date_order must be day first or month first"),
        ({"playr": "Player"}, "playr is none of a layout (did you mean player?)"),
        ({"headers": []}, "headers must be the names of all columns"),
        ({"blocks": {"a": 3}}, 'blocks must be lines of "as in the file" = "ours"'),
        ({"distance": None, "fast": None, "accelerations": None, "top_speed": None}, "distance must be given, or another column"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_layout_is_said(change: dict, complaint: str, path: Path):
    data = {key: value for key, value in (PLAIN | change).items() if value is not None}
    path.write_text(tomli_w.dumps({"plain": data}), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_layouts(path)
    told = [one.replace(': "', ": '").replace('(got "', "(got '").replace('")', "')") for one in caught.value.problems]
    assert any(one.startswith(f"[plain].{complaint}") for one in told), told


def test_a_file_that_is_no_file_of_layouts_is_one_line(path: Path):
    for text, why in (
        ("x = ", "must be valid TOML"),
        ("x = 3", "x must be a layout"),
        (tomli_w.dumps({"a": PLAIN, "b": PLAIN}), "headers must be of one layout"),
    ):
        path.write_text(text, encoding="utf-8")
        with pytest.raises(InputError, match=why):
            read_layouts(path)
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="must be a text file that can be read"):
        read_layouts(path)


def test_a_draft_proposes_and_is_refused_until_it_has_been_checked(path: Path):
    head = [
        "Player Name",
        "Date",
        "Drill Title",
        "Duration (min)",
        "Total Distance (km)",
        "High Speed (m)",
        "Heart Rate",
        "",
    ]
    text = drafted("new one", Table(tuple(head), (), ""))
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_layouts(path)
    assert caught.value.problems == (
        '[new one].fast_from must name something, in quotes (got "")',
        "[new one].checked must be true: read every line of this layout first (got false)",
    )
    path.write_text(
        text.replace("checked = false", "checked = true").replace('fast_from = ""', 'fast_from = "80 %"'),
        encoding="utf-8",
    )
    found = read_layouts(path)["new one"]
    assert found.columns == {
        "player": "Player Name", "date": "Date", "block": "Drill Title", "duration": "Duration (min)",
        "distance": "Total Distance (km)", "fast": "High Speed (m)",
    }  # fmt: skip
    assert found.units == {"duration": "min", "distance": "km", "fast": "m"} and found.starts["fast"].startswith("80 %")
    assert columns_in(["x", "y"]) == {}


@pytest.mark.parametrize(
    ("head", "found"),
    [
        (["Drill name", "Start time", "Athlete", "Duration", "Time"],
         {"block": "Drill name", "player": "Athlete", "duration": "Duration"}),
        (["Surname", "Drill duration", "Drill", "Session date"],
         {"date": "Session date", "block": "Drill", "player": "Surname", "duration": "Drill duration"}),
        (["Player", "Distance per min", "Sprint distance", "Total distance", "HI distance (m)"],
         {"player": "Player", "sprint": "Sprint distance", "distance": "Total distance"}),
        (["Name", "Zone distance", "Distance (metres)"], {"player": "Name", "distance": "Distance (metres)"}),
        (["No", "Report", "Offset", "Updated"], {}),
        (["Name", "High speed (>80 %)", "Fast (%)", "Acc", "Dec", "Vmax"],
         {"player": "Name", "fast": "High speed (>80 %)", "accelerations": "Acc", "decelerations": "Dec", "top_speed": "Vmax"}),
        (["Name", "Sprint", "Sprint from", "Fast from"],
         {"player": "Name", "sprint": "Sprint", "sprint_from_column": "Sprint from", "fast": "Fast from"}),
        (["Joueur", "Exercice", "Durée", "Distance", "Vitesse max"],
         {"player": "Joueur", "block": "Exercice", "duration": "Durée", "distance": "Distance", "top_speed": "Vitesse max"}),
    ],
)  # fmt: skip
def test_a_column_is_proposed_by_its_name(head: list[str], found: dict):
    assert columns_in(head) == found


def test_units_and_speeds_are_read_off_the_name_of_a_column():
    metres = ("m", "km")
    assert [unit_in(one, metres) for one in ("Dist [km]", "Distance_m", "Metres", "Distance", "Fast (>5 m/s)")] == [
        "km", "m", "m", "", "",
    ]  # fmt: skip
    assert (
        unit_in("Time (hh:mm:ss)", ("min", "s", "h:mm:ss")) == "h:mm:ss"
        and unit_in("Top km/h", ("km/h", "m/s")) == "km/h"
    )
    assert [threshold_in(one) for one in ("Fast (> 19,8 km/h)", "Speed above 5.5 m/s", "Fast >80%", "Fast 19.8 km/h")] == [
        "19,8 km/h", "5.5 m/s", "80%", "",
    ]  # fmt: skip


def test_a_draft_has_a_line_for_every_drill_and_names_what_is_left(path: Path):
    lines = ['Ali;4v2 "end";0:08:00;500;7', "Bo;tight-square;0:04:30;300;6", 'Cy;4v2 "end";0:08:00;480;5']
    table = read_table("\n".join(["Athlete;Drill;Time;Distance (m);Effort", *lines]).encode(), "a.csv")
    text = drafted("new", table)
    assert '# columns that nothing reads: "Effort"' in text and "# not found: date, bout, role, fast" in text
    path.write_text(text.replace("checked = false", "checked = true"), encoding="utf-8")
    found = read_layouts(path)["new"]
    assert found.units == {"duration": "h:mm:ss", "distance": "m"}
    assert found.blocks == {'4v2 "end"': "", "tight-square": "tight-square"}  # left empty: no game of ours
    assert list(games_of(table, found, "layouts.toml")) == ["tight-square"]
    told = text.replace('tight-square = "tight-square"', 'tight-square = ""').replace(
        "checked = false", "checked = true"
    )
    path.write_text(told, encoding="utf-8")
    assert games_of(table, read_layouts(path)["new"], "layouts.toml") == {}
    assert '# "drill as in the file"' in drafted("none", Table(("Name", "Mins"), (), ""))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("19.8 km/h", "19.8 km/h"),
        ("5.5 m/s", "19.8 km/h"),
        ("5,5m/s", "19.8 km/h"),
        ("80 %", "80 % of own top speed"),
        ("19.8", ""),
    ],
)
def test_a_threshold_is_said_in_one_way(typed: str, said: str):
    assert threshold_said(typed) == said and (not said or threshold_said(said) == said)


def test_the_layout_on_the_page_is_one(path: Path):
    page = (Path(__file__).resolve().parents[3] / "cli" / "README.md").read_text(encoding="utf-8")
    path.write_text(
        page.partition("```toml\n[tracker]")[1][8:] + page.partition("```toml\n[tracker]")[2].partition("```")[0],
        encoding="utf-8",
    )
    found = read_layouts(path)["tracker"]
    assert found.blocks == {"4v2 end": "tight-square"} and found.starts == {"fast": "19.8 km/h"}


def test_a_drill_is_a_game_by_the_layout_or_by_its_own_name():
    table = read_table(rows("Ali,2026-11-28,4v2 END,8,500,3,14,", "Ali,2026-11-28,x,8,500,3,14,").encode(), "a.csv")
    found = games_of(table, layout(PLAIN), "layouts.toml")
    assert list(found) == ["4v2 end"] and found["4v2 end"].title == "Lose it and go in"
    with pytest.raises(InputError, match=r"layouts.toml: \[tracker.blocks\], 'x': "):
        games_of(table, layout(PLAIN, blocks={"x": "no-such-game"}), "layouts.toml")
    own = read_table(rows("Ali,2026-11-28,tight-square,8,500,3,14,").encode(), "a.csv")
    assert list(games_of(own, layout(PLAIN), "layouts.toml")) == ["tight-square"]
