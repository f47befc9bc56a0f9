"""Where the ball is only to be kept, keepers of the side with the ball are supports like any other."""

from __future__ import annotations

import pytest

from sim.game.loader import resolve
from sim.game.model import Game
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.theory.games import events_of, merged, of_kind

KEEPERS = {"floaters": ("green", "green"), "one a side": ("amber", "slate")}


def end_to_end(teams: tuple[str, str], **more: object) -> Game:
    """Five against five keep it, with a keeper in the goal at each end."""
    keepers = {
        f"{end}-keeper": {
            "side": "holder" if team == "green" else "team",
            "style": "goal",
            "place": f"{end}-goal",
            "players": {team: 1},
        }
        for end, team in zip(("west", "east"), teams, strict=True)
    }
    short = {
        "format": 1,
        "title": "End to end",
        "purpose": "Use the keepers.",
        "bouts": {"count": 1, "minutes": 3},
        "start": {"side": "amber"},
        "areas": {"pitch": {"length": 36, "width": 26}},
        "goals": {f"{end}-goal": {"at": f"{end} end of pitch", "width": 5} for end in ("west", "east")},
        "teams": {name: {} for name in sorted({"amber", "slate", *teams})},
        "roles": {"player": {"side": "team", "style": "free", "place": "pitch", "players": {"amber": 5, "slate": 5}}}
        | keepers,
        "phases": {"keep": {}},
    }
    return resolve(merged(short, more), "end-to-end")


def passes(game: Game) -> tuple[int, int, int]:
    """(passes, those meant for a keeper, those a keeper controlled) of eight bouts."""
    keepers = {player.id for player in game.players if player.role.endswith("keeper")}
    played = meant = controlled = 0
    for seed in range(8):
        events = events_of(play_bout(game, draw_roster(game, seed, 0), seed))
        played += len(of_kind(events, "release"))
        meant += sum(each["other"] in keepers for each in of_kind(events, "release"))
        controlled += sum(each["player"] in keepers for each in of_kind(events, "receive"))
    return played, meant, controlled


@pytest.mark.parametrize("teams", KEEPERS.values(), ids=KEEPERS)
def test_keepers_get_a_share_of_the_passes(teams):
    # Of five or six who can be passed to one or two are keepers, at the ends: from a third to twice an equal share.
    played, meant, controlled = passes(end_to_end(teams))
    equal = 2 / 6 if teams[0] == "green" else 1 / 5
    assert equal / 3 < meant / played < min(2 * equal, 0.6)
    assert controlled > 0.8 * meant


def test_a_keeper_who_is_told_to_wait_gets_none():
    jobs = {"west-keeper": "wait in pitch", "east-keeper": "wait in pitch"}
    game = end_to_end(KEEPERS["floaters"], phases={"keep": {"jobs": jobs}})
    assert passes(game)[1:] == (0, 0)


def test_a_keeper_whose_goal_is_not_where_the_ball_is_kept_gets_none():
    areas = {"pitch": {"length": 60, "width": 30}, "middle": {"length": 18, "width": 18, "within": "pitch"}}
    inside = {"player": {"place": "middle"}}
    game = end_to_end(KEEPERS["floaters"], areas=areas, roles=inside, phases={"keep": {"ball_in": "middle"}})
    assert passes(game)[1:] == (0, 0)
