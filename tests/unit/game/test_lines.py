"""When a ball over the line of an area is out: what a file may say, and what holds where it says nothing."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.evidence.tables import folder
from sim.game.lines import manned
from sim.game.loader import load_game, resolve, to_short


def said(changes: list[str], name: str = "tight-square") -> str:
    with pytest.raises(InputError) as caught:
        load_game(name, changes)
    return str(caught.value)


def square(*changes: str):
    """The square of a game whose file says nothing of its run-off, or what the changes say."""
    short = to_short(load_game("tight-square"))
    for key in ("run_off", "out"):
        del short["areas"]["square"][key]
    return load_game(short, changes).area("square")


def test_where_players_stand_on_the_lines_play_goes_on_for_two_metres():
    area = square()
    assert (area.out, area.run_off, area.run_off_in_play) == ("run-off", 2.0, 2.0)


def test_where_nobody_does_a_ball_is_out_at_the_line():
    area = square("roles.outside.style=free")
    assert (area.out, area.run_off, area.run_off_in_play) == ("line", 3.0, 0.0)


@pytest.mark.parametrize(("run_off", "out"), [(0.0, "line"), (0.49, "line"), (0.5, "run-off"), (4.0, "run-off")])
def test_without_room_behind_the_line_it_is_the_line(run_off, out):
    assert square(f"areas.square.run_off={run_off}").out == out


def test_the_line_can_be_asked_for():
    area = square("areas.square.out=line")
    assert (area.out, area.run_off_in_play) == ("line", 0.0)
    assert load_game("even-keep-ball", ["areas.field.out=line"]).area("field").out == "line"


def test_a_run_off_is_as_wide_as_the_unit_of_the_file_has_it():
    area = square("units=yards", "areas.square.run_off=0.5", "areas.square.out=line")
    assert area.run_off == pytest.approx(0.4572)
    assert square("units=yards", "areas.square.run_off=0.5").out == "line"  # less than half a metre


def test_a_run_off_that_cannot_be_played_in_is_refused():
    assert said(["areas.field.out=run-off"], "even-keep-ball").endswith(
        'areas.field.out must be line, as nobody stands on the lines of this area (got "run-off")'
    )
    assert said(["areas.square.run_off=0.4", "areas.square.out=run-off"]).endswith(
        'areas.square.run_off must be at least 0.5 metres where out = "run-off" (got 0.4)'
    )
    assert said(["areas.square.out=corner"]).endswith('must be one of line or run-off (got "corner")')


def test_who_stands_on_lines_is_asked_of_jobs_and_of_words_for_areas():
    everywhere = {"west", "east"}
    assert manned(load_game("two-squares")) == everywhere
    one = ["phases.keep.jobs.east='free in east'"]
    assert manned(load_game("two-squares", one)) == {"west"}
    active = [*one, "roles.west.place=active"]
    assert manned(load_game("two-squares", active)) == everywhere
    assert manned(load_game(folder() / "games" / "break-away.toml")) == {"square"}
    assert manned(load_game("home-grids")) == set()
    homes = {team.home for team in load_game("home-grids").teams}
    role = load_game("home-grids").roles[0].name
    assert manned(load_game("home-grids", [f"roles.{role}.style=edge", f"roles.{role}.place=home"])) == homes


@pytest.mark.parametrize("out", ["line", "run-off"])
def test_it_is_written_and_read_again(out):
    game = load_game("tight-square", [f"areas.square.out={out}"])
    short = to_short(game)
    assert short["areas"]["square"]["out"] == out
    assert resolve(short, "again", game.name) == game
