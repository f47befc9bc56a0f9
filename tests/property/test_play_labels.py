"""Names are only names: teams and sides exchange theirs in all six games (ids stay), and the log is the same up to those names.

And watching a bout changes nothing.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.game.model import Game, Rule
from sim.game.verbs import Action
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.support.games import GAMES, plain
from tests.support.watching import watched

SEED = 6
SIDES = {
    "tight-square": ("inside", "outside"),
    "two-squares": ("outside", "chasers"),
    "home-grids": ("amber", "slate"),
    "break-away": ("builders", "hunters"),
    "even-goals": ("amber", "slate"),
    "even-keep-ball": ("amber", "slate"),
}


def exchanged(game: Game, names: dict[str, str]) -> Game:
    """The game with teams and sides renamed; players keep their ids, so that their luck stays theirs."""

    def new(word):
        return names.get(word, word)

    def action(one: Action) -> Action:
        return one.model_copy(update={key: new(word) for key, word in one if key in ("to", "who")})

    def rule(one: Rule) -> Rule:
        return one.model_copy(update={"by": new(one.by), "do": tuple(action(each) for each in one.do)})

    return game.model_copy(
        update={
            "start_side": new(game.start_side),
            "goals": tuple(one.model_copy(update={"attacked_by": new(one.attacked_by)}) for one in game.goals),
            "teams": tuple(one.model_copy(update={"name": new(one.name)}) for one in game.teams),
            "players": tuple(one.model_copy(update={"team": new(one.team)}) for one in game.players),
            "roles": tuple(one.model_copy(update={"side": new(one.side)}) for one in game.roles),
            "phases": tuple(
                one.model_copy(update={"rules": tuple(rule(each) for each in one.rules)}) for one in game.phases
            ),
            "restarts": tuple(one.model_copy(update={"to": new(one.to)}) for one in game.restarts),
        }
    )


@cache
def played(name: str):
    game = load_game(name)
    return game, play_bout(game, draw_roster(game, SEED, 0), SEED)


@pytest.mark.parametrize("name", GAMES)
def test_teams_and_sides_exchange_their_names(name: str):
    game, log = played(name)
    one, two = SIDES[name]
    names = {one: two, two: one}
    other = exchanged(game, names)
    assert other != game
    again = play_bout(other, draw_roster(other, SEED, 0), SEED)
    events, paths = plain(again)
    assert [(*e[:5], names.get(e[5], e[5]), *e[6:]) for e in events] == plain(log)[0]
    assert np.array_equal(paths, log.segments)
    assert tuple(names.get(team, team) for team in again.teams) == log.teams


@pytest.mark.parametrize("name", GAMES)
def test_an_observer_changes_nothing(name: str):
    _, log = played(name)
    seen = []
    bout = watched(name, SEED, lambda bout, i, gap: seen.append((bout.now, i, gap, bout.ball_place())))
    assert len(seen) > 20
    assert len(bout.events) == len(log.events)
    assert all(a[:8] == b[:8] for a, b in zip(bout.events, log.events, strict=True))
    assert np.array_equal(bout.runs(), log.segments)
