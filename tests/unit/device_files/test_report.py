"""The dry run: what is kept, and every line that is not with its reason."""

from __future__ import annotations

import json
from datetime import date, datetime, time
from pathlib import Path

import pytest

from sim.device_files.doubts import most_fast_metres
from sim.device_files.people import People, people_of, read_squad
from sim.errors import InputError
from sim.game.loader import load_game
from sim.own_counts.delivered import Delivered
from sim.words.import_screen import report_in_words
from tests.support.screens import holds
from tests.unit.device_files.made import COMMAS, GAME, SESSION, report, rows, workbook

ALI = "Ali,2026-11-28,4v2 end,8,512.5,3,14,21.5"
BO = "Bo,2026-11-28,4v2 end,8,498,0,12,20.1"


def reasons(found) -> dict[int, str]:
    return {one.line: one.reason.replace('"', "'") for one in found.left_out}


def test_a_plain_file_is_read_and_its_drill_is_our_game():
    found = report(rows(ALI, BO))
    assert found.kept[0] == Delivered(
        2, "2026-11-28", "4v2 end", "Ali", 8.0, GAME.title, metres=512.5, fast_metres=3.0, fast_from="19.8 km/h", accelerations=14,
        top_speed_kmh=21.5,
    )  # fmt: skip
    assert (found.read, found.left_out, found.doubts, found.conflicts, found.blocks) == (2, (), (), (), ())


def test_semicolons_decimal_commas_kilometres_and_hours():
    text = "Export;today\nSpieler;Datum;Übung;Zeit;Strecke (km);Schnell (m)\nAli;28.11.2026;Rondo;0:08:30;0,512;3,5\n"
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        (one,) = report(text.encode(encoding), COMMAS).kept
        assert (one.line, one.minutes, one.metres, one.fast_metres) == (3, 8.5, 512.0, 3.5)
        assert (one.day, one.fast_from, one.game) == ("2026-11-28", "80 % of own top speed", "")


def test_a_row_a_session_without_a_date_and_with_its_own_thresholds():
    text = "shirt\tsecs\tdist\tmax m/s\tsprint\tsprint from\n7\t2700\t4100\t7.5\t20\t25.2 km/h\n8\t2700\t3900\t7.0\t15\t7 m/s\n"
    found = report(text, SESSION, day="2026-11-28", people=People({"7": "Ali", "8": "Bo"}, {"Ali": "wing"}))
    assert [(one.player, one.role, one.minutes, one.sprint_from) for one in found.kept] == [
        ("Ali", "wing", 45.0, "25.2 km/h"), ("Bo", "", 45.0, "25.2 km/h"),
    ]  # fmt: skip
    assert found.kept[0].top_speed_kmh == 27.0 and found.notes == ()
    two = report(text.replace("7 m/s", "24 km/h"), SESSION, day="2026-11-28")
    assert two.notes == ("sprint from 25.2 km/h and from 24 km/h among the rows: never put together.",)
    with pytest.raises(InputError, match=r"--date: must be given: layout \[tracker\] has no column for it"):
        report(text, SESSION)


def test_a_spreadsheet_with_real_days_and_times():
    lines = [
        ["Spieler", "Datum", "Übung", "Zeit", "Strecke (km)", "Schnell (m)"],
        ["Ali", datetime(2026, 11, 28), "Rondo", time(0, 8, 30), 0.512, 3.5],
        [7, date(2026, 11, 28), "Rondo", time(0, 8), 0.5, None],
    ]
    found = report(workbook(Page=lines, Empty=[]), COMMAS)
    assert [(one.player, one.minutes, one.metres, one.fast_metres) for one in found.kept] == [
        ("Ali", 8.5, 512.0, 3.5), ("7", 8.0, 500.0, None),
    ]  # fmt: skip
    assert found.kept[1].fast_from == ""


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("Total,2026-11-28,4v2 end,8,1010,3,26,", "a total or an average, by its name"),
        ("Team average:,2026-11-28,4v2 end,8,505,1.5,13,", "a total or an average, by its name"),
        ("Cy,2026-11-28,4v2 end,8,1010.5,3,26,", "a total: the sum of all other lines of this drill"),
        (",2026-11-28,4v2 end,8,400,3,26,", "names no player"),
        ("Cy,2026-11-28,4v2 end,0,400,3,11,", "of no duration: was the device on?"),
        ("Cy,2026-11-28,4v2 end,,400,3,11,", "says no duration"),
        ("Cy,2026-11-28,4v2 end,480,400,3,11,", "duration must be at most 180 minutes (got 480)"),
        ("Cy,2026-11-28,4v2 end,-8,400,3,11,", "duration must be at most 180 minutes (got -8)"),
        ("Cy,2026-11-28,4v2 end,8,-400,3,11,", "metres must be 0 or more (got -400)"),
        ("Cy,2026-11-28,4v2 end,8,400,500,11,", "more fast metres than metres in all (500 of 400)"),
        ("Cy,2026-11-28,4v2 end,8,,,,", "nothing was measured"),
        ("Cy,2026-11-28,4v2 end,8,many,3,11,", "distance must be a number (got 'many')"),
        ("Cy,2026-11-28,4v2 end,8,0.4 km,3,11,", "distance must be in m, as the layout says (got '0.4 km')"),
        ("Cy,2026-11-28,4v2 end,8,400,3,11.5,", "accelerations must be a whole number (got '11.5')"),
        ("Cy,2026-11-28,4v2 end,8:00,400,3,11,", "duration must be a number (got '8:00')"),
        ("Cy,yesterday,4v2 end,8,400,3,11,", "date must be a day, such as 2026-11-28 or 28.11.2026 (got 'yesterday')"),
        ("Cy,2026-12-28,4v2 end,8,400,3,11,", "date must not be in the future (got 2026-12-28)"),
        ("Cy,2026-11-28,4v2 end,8,400,3,11,19,5", "has more cells than the 8 columns"),
        ("Zoe,2026-11-28,4v2 end,8,400,3,11,", "nobody of yours"),
        (ALI, "a copy of line 2"),
    ],
)  # fmt: skip
def test_every_line_that_is_left_out_has_its_reason(line: str, reason: str):
    squad = People({"ali": "Ali", "bo": "Bo", "cy": "Cy"})
    found = report(rows(ALI, BO, line), people=squad)
    assert reasons(found) == {4: reason} and len(found.kept) == 2


def test_a_player_twice_in_a_drill_is_not_guessed():
    found = report(rows(ALI, BO, "A. One,2026-11-28,4v2 end,8,300,0,9,18"), people=People({"ali": "Ali", "bo": "Bo"}))
    assert reasons(found) == {
        2: "the same player and drill as line 4, with other numbers", 4: "the same player and drill as line 2, with other numbers",
    }  # fmt: skip
    assert [one.player for one in found.kept] == ["Bo"]


def test_a_players_total_of_the_day_is_left_out():
    lines = [f"Ali,2026-11-28,{drill},8,{n},1,10,20" for drill, n in (("a", 400), ("b", 500), ("c", 450))]
    found = report(rows(*lines, "Ali,2026-11-28,,24,1350,3,30,20"))
    assert reasons(found) == {5: "a total: the sum of this player's other lines of the day"}
    assert [one for one, _ in found.blocks] == ["a", "b", "c"]


def test_what_can_be_read_two_ways_is_asked_for_and_not_guessed():
    text = "Spieler;Datum;Übung;Zeit;Strecke (km);Schnell (m)\nAli;05.11.2026;Rondo;0:08:00;1,024;\n"
    with pytest.raises(InputError) as caught:
        report(text, COMMAS)
    assert tuple(one.replace('"', "'") for one in caught.value.problems) == (
        "[tracker].decimal_mark must say 'point' or 'comma' (got '1,024', which can be read both ways)",
        "[tracker].date_order must say 'day first' or 'month first' (got '05.11.2026', which can be read both ways)",
    )
    said = {"decimal_mark": "comma", "date_order": "month first"}
    (one,) = report(text, COMMAS, **said).kept
    assert (one.metres, one.day) == (1024.0, "2026-05-11")
    more = text + "Bo;28.11.2026;Rondo;0:08:00;0,9;\n"  # another line decides it
    assert [(one.metres, one.day) for one in report(more, COMMAS).kept][0] == (1024.0, "2026-11-05")
    with pytest.raises(InputError, match=r"got .1,5. and .1.5., which contradict each other"):
        report(text.replace("1,024", "1,5") + "Bo;28.11.2026;Rondo;0:08:00;1.5;\n", COMMAS)


def test_units_that_cannot_be_are_in_conflict():
    lines = [f"P{n},2026-11-28,a,8,0.{n}1,0,10,5.{n}" for n in range(1, 6)]
    assert [one.split(" must")[0] for one in report(rows(*lines)).conflicts] == [
        "[tracker].distance_unit", "[tracker].top_speed_unit",
    ]  # fmt: skip
    assert report(rows(ALI, BO)).conflicts == ()


def test_adults_speeds_are_refused_where_minors_play():
    young = load_game("tight-square", population="U12")
    found = report(rows(ALI, BO), games={"4v2 end": young})
    assert found.conflicts == (
        "[tracker].fast_from must be a share of own top speed where minors play (got 19.8 km/h, of adults)",
    )
    assert report(rows(ALI, BO), games={}, minors=True).conflicts == found.conflicts
    shares = report(rows(ALI, BO), games={"4v2 end": young}, fast_from="80 %")
    assert shares.conflicts == () and shares.notes == ()


def test_another_threshold_than_ours_is_said():
    assert report(rows(ALI, BO), fast_from="5 m/s").notes == (
        "fast from 18 km/h, our figures from 19.8 km/h: not held against each other.",
    )


def test_what_cannot_well_be_is_flagged_and_kept():
    square = load_game("tight-square", changes=["side=15"])
    found = report(rows("Ali,2026-11-28,4v2 end,8,700,40,14,21.5", BO), games={"4v2 end": square})
    assert [(one.line, one.what) for one in found.doubts] == [(2, "40 fast metres where the longest line is 21 m")]
    wide = load_game("tight-square", changes=["side=40"])
    assert report(rows("Ali,2026-11-28,4v2 end,8,700,40,14,21.5", BO), games={"4v2 end": wide}).doubts == ()
    odd = report(rows("Ali,2026-11-28,a,4,1200,40,14,45", "Bo,2026-11-28,a,4,400,40,14,17", BO))
    assert [one.what for one in odd.doubts] == [
        "300 metres a minute", "a top speed of 45 km/h", "40 metres above 19.8 km/h with a top speed of 17",
    ]  # fmt: skip
    assert most_fast_metres(5.0, 8.0) == 0.0 and most_fast_metres(26.2, 8.0) == 40.0


def test_who_is_known_comes_from_a_squad_or_the_games(tmp_path: Path):
    squad = tmp_path / "squad.csv"
    squad.write_text("player;shirt;role\nAli;7;outside\nBo;8;\n", encoding="utf-8")
    found = read_squad(squad)
    assert found.known("7", {}) == found.known(" ALI ", {}) == found.known("A. One", {"a. one": "Ali"}) == "Ali"
    assert found.known("Zoe", {}) is None and found.roles == {"Ali": "outside"}
    squad.write_text("player;shirt\nAli;7\nBo;7\n", encoding="utf-8")
    with pytest.raises(InputError, match="line 3, 'Bo' must be told apart from 'Ali'"):
        read_squad(squad)
    squad.write_text("who;shirt\nAli;7\n", encoding="utf-8")
    with pytest.raises(InputError, match="must have a column player"):
        read_squad(squad)
    assert not people_of([GAME]).given  # nobody has a name of his own there


def test_the_screen_is_small_and_says_what_is_left_out():
    squad = People({"ali": "Ali", "bo": "Bo", "cy": "Cy"})
    lines = [
        ALI,
        BO,
        "Zoe,2026-11-28,4v2 end,8,400,3,11,",
        "Cy,2026-11-28,warm-up,0,400,3,11,",
        "Cy,2026-11-28,warm-up,9,400,3,11,",
    ]
    found = report(rows(*lines), people=squad)
    text = report_in_words(found, "a.csv", "overload import a.csv --keep", None)
    holds(text)
    text = " ".join(text.split())
    assert "3 of 5 rows can be kept: three players, two drills, 28 Nov 2026." in text
    assert "nobody of yours (Zoe)" in text and "was the device on?" in text and "'warm-up' is no game of yours" in text
    more = report_in_words(found, "a.csv", None, None, details=True)
    assert all(part in more for part in ("Left out", "Can be kept", "28 Nov 2026"))
    plain = json.loads(found.to_json(names=False))
    assert "Ali" not in json.dumps(plain["kept"]) and "Zoe" not in json.dumps(plain["left_out"])
    assert json.loads(found.to_json(names=True))["kept"][0]["player"] == "Ali"


def test_small_numbers_that_add_up_by_chance_are_no_total():
    """Accelerations are counted, not rounded; and of a handful nobody can tell."""
    lines = [f"{name},2026-11-28,4v2 end,8,,,{n},20" for name, n in (("Ali", 4), ("Bo", 2), ("Cy", 3), ("Dora", 1))]
    assert "a total: the sum of all other lines of this drill" not in reasons(report(rows(*lines))).values()
    many = [f"{name},2026-11-28,4v2 end,8,,,{n},20" for name, n in (("Ali", 101), ("Bo", 50), ("Cy", 52))]
    assert "a total: the sum of all other lines of this drill" not in reasons(report(rows(*many))).values()
