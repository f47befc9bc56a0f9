"""Who can have the ball, who can score, and who alone can come, read off the rules; held to the log of bouts in
tests/property/test_rules_as_printed.py."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.game.family import in_play_at_start, side_of, sides_at_start
from sim.game.having import sides_having, sides_scoring, stops_when_won
from sim.game.loader import load_game
from sim.game.model import Job
from sim.game.sole import chosen_by_time, sole_comer, sole_goer
from sim.game.verbs import Open, Swap

SHOTS_FOR_ONE = Path(__file__).resolve().parents[2] / "cases" / "language" / "shots-for-one.toml"
RULE = "phases.keep.rules.loser-goes-in"
LAST_STEP, STEP = "phases.play.rules.lost.last_step={}", "phases.play.rules.last-life.do=[{ step = 'loser' }]"
MORE = "{ assign = 'inside', of = 'all', from = 'inside', count = 1, choose = 'nearest' }, { restart = 'start' }"


@pytest.mark.parametrize(
    ("name", "changes", "having"),
    [
        ("tight-square", [], ("outside",)),
        ("tight-square", [f"{RULE}.causes=['tackle', 'out']"], ("outside", "inside")),
        ("tight-square", [f"{RULE}.do=[{{ swap = 'loser', with = 'winner' }}]"], ("outside", "inside")),
        ("tight-square", ["restarts.out.to=other"], ("outside", "inside")),
        ("tight-square", ["bouts.first_ball=in turn"], ("outside", "inside")),
        ("three-lives", [], ("outside",)),
        ("three-lives", [LAST_STEP.format("false"), STEP], ("outside",)),
        ("three-lives", [LAST_STEP.format("true"), STEP], ("outside", "inside")),
        ("break-away", [], ("builders",)),
        ("win-it-back", [], ("keeping", "hunting")),
        ("waves", [], ("amber", "slate")),
        ("tight-square", ["fouls.share=0.1"], ("outside",)),
        (SHOTS_FOR_ONE, [], ("amber", "slate")),
    ],
)
def test_who_can_have_the_ball(name, changes, having):
    assert sorted(sides_having(load_game(name, changes))) == sorted(having)


@pytest.mark.parametrize(
    ("name", "scoring"),
    [
        ("tight-square", ()),
        ("two-squares", ("outside",)),
        ("hunt-in-turn", ("inside",)),
        ("win-it-back", ("keeping",)),
        ("break-away", ("hunters", "builders")),
        ("keep-or-score", ("amber", "slate")),
    ],
)
def test_who_can_score(name, scoring):
    assert sides_scoring(load_game(name)) == scoring


def test_where_a_win_stops_play():
    assert stops_when_won(load_game("two-squares")) and stops_when_won(load_game("hunt-in-turn"))
    assert not stops_when_won(load_game("win-it-back")) and not stops_when_won(load_game("even-keep-ball"))


def swap_of(name: str, *changes: str):
    game = load_game(name, changes)
    return next(
        (game, rule, one) for phase in game.phases for rule in phase.rules for one in rule.do if isinstance(one, Swap)
    )


def test_who_alone_can_come_or_go():
    assert sole_comer(*swap_of("three-strips")) == ("blocker", "sent-in")
    assert sole_comer(*swap_of("in-pairs")) == ("inside",)
    assert sole_comer(*swap_of("losers-off")) == ("wall",)
    assert sole_comer(*swap_of("tight-square")) == () == sole_comer(*swap_of("one-more"))
    alone = "roles.inside.players=1"
    assert sole_comer(*swap_of("tight-square", alone)) == ("inside",)
    gives = f"{RULE}.do=[{{ swap = 'loser', with = 'longest in' }}, {MORE}]"
    assert sole_comer(*swap_of("tight-square", alone, gives)) == ()
    game, _, swap = swap_of("losers-off")
    assert sole_goer(game, swap)
    assert chosen_by_time(load_game("tight-square")) and not chosen_by_time(load_game("three-strips"))


def test_only_a_side_that_may_ever_shoot_scores_goals():
    game = load_game(SHOTS_FOR_ONE)
    assert set(sides_scoring(game)) == {"amber", "slate"}
    (phase,) = game.phases
    never = tuple(replaced(rule, do=[one for one in rule.do if not isinstance(one, Open)]) for rule in phase.rules)
    assert sides_scoring(game.model_copy(update={"phases": (replaced(phase, rules=never),)})) == ("slate",)


def replaced(one, **new):
    return one.model_copy(update={name: tuple(value) for name, value in new.items()})


def test_who_is_in_play_is_read_off_the_phase_of_the_start():
    game, rule, swap = swap_of("losers-off")
    assert sole_goer(game, swap)
    everybody = {one.id for one in game.players}
    playing = {one.id for one in in_play_at_start(game)}
    start = game.phase(game.start_phase)
    role = game.role(next(one.role for one in game.players if one.id in playing))
    job = Job(role=role.name, style="wait", place=role.place)
    benched = game.model_copy(
        update={"phases": tuple(replaced(one, jobs=[job]) if one is start else one for one in game.phases)}
    )
    left = {one.id for one in in_play_at_start(benched)}
    assert playing - left == {one.id for one in game.players if one.role == role.name} and left < playing <= everybody
    assert sum(sides_at_start(benched).values()) == len(
        [one for one in in_play_at_start(benched) if side_of(game, one) != "holder"]
    )


def test_who_has_the_ball_after_a_foul_can_have_it():
    game = load_game("tight-square", ["fouls.share=0.1"])
    theirs = tuple(one.model_copy(update={"to": "inside"}) if one.name == "foul" else one for one in game.restarts)
    changed = game.model_copy(update={"restarts": theirs})
    assert theirs != game.restarts and set(sides_having(changed)) == {"outside", "inside"}
    assert sides_having(changed.model_copy(update={"foul_share": 0.0})) == ("outside",), "nobody fouls"
