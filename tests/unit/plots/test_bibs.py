"""Bibs: what the words name is what is drawn, in diagram and replay; in grey told apart by shape; numbers can be read."""

from __future__ import annotations

import pytest
from matplotlib.colors import to_rgb

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.plots.badges import FLOATER, LOOKS, OWN
from sim.plots.bibs import BIBS, colour_of, wardrobe
from sim.plots.look import INK
from sim.report.bout_data import bout_data
from sim.words.diagram_words import FLOATERS, groups_of
from sim.words.sheet import carried


@pytest.mark.parametrize("name", shipped_games())
def test_the_colours_of_the_picture_are_those_of_the_bibs_named(name: str):
    game = load_game(name)
    clothes, kit = wardrobe(game), carried(game)[0]
    for group in groups_of(game):
        if clothes.bibs and (named := colour_of(group.team)) is not None:
            assert group.team in kit
            assert clothes.look(group.side, group.team)[1:3] == named
    shapes = [clothes.look(side, team).mark for side, team in ((one, one) for one in clothes.bibs)]
    assert len(set(shapes)) == len(shapes), "in grey by shape"


def test_a_colour_is_found_in_the_name_of_a_team_and_only_as_a_word():
    assert colour_of("Red-2") == BIBS["red"] and colour_of("dark_blue") == BIBS["blue"]
    assert colour_of("squad") is None and colour_of("bored") is None


def test_two_colours_of_one_side_are_told_apart_and_follow_the_players():
    clothes = wardrobe(load_game("three-strips"))
    amber, slate = (clothes.look("ends", team) for team in ("amber", "slate"))
    assert (amber.mark, amber.fill) != (slate.mark, slate.fill) and amber.mark != slate.mark
    assert clothes.look("middle", "amber") == amber, "in the middle they wear what they wore"


def test_where_all_are_of_one_team_sides_are_told_apart():
    clothes = wardrobe(load_game("tight-square"))
    assert (clothes.look("outside", "squad"), clothes.look("inside", "squad")) == LOOKS[:2]


def test_keepers_wear_a_colour_of_their_own_inside_the_bib_of_their_side():
    game = load_game("losers-off")
    clothes = wardrobe(game)
    one = clothes.keeper("east", "keepers")
    assert (one.fill, one.inner) == (BIBS["slate"][0], OWN)
    assert clothes.look(FLOATERS, "white").fill == BIBS["white"][0]
    assert wardrobe(load_game("keeper-to-keeper")).look(FLOATERS, "keepers") == FLOATER


def test_the_replay_wears_what_the_diagram_wears():
    game = load_game("waves", ["bouts.minutes=0.5"])
    found = bout_data(game, play_bout(game, draw_roster(game, 1, 0), 1, 0, 0), "")
    fills = {name: look[1] for name, look in found["key"]}
    assert fills == {"amber": BIBS["amber"][0], "slate": BIBS["slate"][0]} == found["fills"]
    rims = {look[3] for one in found["players"] if one["keeps"] for look in one["looks"].values()}
    assert rims == set(fills.values())


def light(colour: str) -> float:
    """Relative luminance (WCAG 2.1)."""
    parts = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in to_rgb(colour)]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


@pytest.mark.parametrize(
    ("fill", "ink"), [*BIBS.values(), *((one.fill, one.ink) for one in (*LOOKS, FLOATER)), (OWN, INK)]
)
def test_numbers_can_be_read_on_their_bibs(fill: str, ink: str):
    a, b = sorted((light(fill), light(ink)))
    assert (b + 0.05) / (a + 0.05) >= 4.5
