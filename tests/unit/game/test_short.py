"""Short files: what is left out is filled in as stated, what is written once is written out, and old files are what they were."""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, read_game, resolve, to_resolved
from sim.game.schema import json_schema
from sim.game.shipped import shipped_games
from sim.game.short_words import LEFT_OUT, OTHER_SIDE
from sim.game.whole import whole
from tests.support.games import GAMES as SIX
from tests.support.short_files import GOALS, SQUARE

CASES = Path(__file__).resolve().parents[2] / "cases"
BEFORE = CASES / "before"
LOSS = 'rules.lost = { on = "loss", do = [{ swap = "loser", with = "longest in" }, { restart = "start" }] }\n'


def read(text: str):
    return resolve(tomllib.loads(text), "mine.toml", "my-game")


def refused(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        read(text)
    return list(caught.value.problems)


def holds(old, new) -> bool:
    """Whether all that stood in the old form stands in the new one (which may have more keys)."""
    if isinstance(old, dict):
        return isinstance(new, dict) and all(key in new and holds(one, new[key]) for key, one in old.items())
    if isinstance(old, list):
        return isinstance(new, list) and len(old) == len(new) and all(map(holds, old, new))
    return old == new


def file_of(name: str) -> Path:
    """The file of today of a game that was kept: shipped, or a case."""
    return shipped_games().get(name, CASES / "valid" / f"{name}.toml")


@pytest.mark.parametrize("kept", sorted(BEFORE.glob("*.json")), ids=lambda file: file.stem)
def test_a_file_is_the_game_that_it_was_before_files_could_be_short(kept):
    # The resolved form says all that is played: equal games are played alike to the last bit.
    assert holds(json.loads(kept.read_text(encoding="utf-8")), to_resolved(load_game(file_of(kept.stem))))


@pytest.mark.parametrize("name", SIX)
def test_the_old_wording_of_a_shipped_game_is_the_game_of_today(name):
    assert load_game(BEFORE / f"{name}.toml") == load_game(name)


def test_another_game_is_seen():
    data = json.loads((BEFORE / "two-squares.json").read_text(encoding="utf-8"))
    assert not holds(data, to_resolved(load_game("two-squares", ["roles.chaser.press=0.6"])))


def test_a_coach_needs_few_lines_for_the_common_forms():
    assert len(SQUARE.split("\n")) - 2 < 10 and read(SQUARE).name == "my-game"
    assert len((SQUARE + LOSS).splitlines()) <= 12 and read(SQUARE + LOSS).phases[0].rules[0].name == "lost"


LONGER = {"break-away", "home-grids", "two-squares", "locked-thirds", "three-squares", "waves"}
"""Shipped files of more than twelve lines: several phases with their reasons, or many roles.  May only shrink."""


def test_shipped_files_are_short():
    texts = {name: file.read_text(encoding="utf-8").splitlines() for name, file in shipped_games().items()}
    written = {name: [line for line in text if line.strip("# ") and line[0] != "#"] for name, text in texts.items()}
    assert {name for name, lines in written.items() if len(lines) > 12} == LONGER


def test_six_against_three_in_pairs_won_by_three_passes_takes_six_lines():
    """ "6v3 in 18 m, two touches, pairs, win by three passes"; the ninth goes in alone."""
    pairs = 'rules.lost = { on = "loss", do = [{ swap = "loser and partner", with = "longest in", alone = true }] }\n'
    text = f"{SQUARE}teams.squad.pairs = [[1, 2], [3, 4], [5, 6], [7, 8]]\nwin.passes = 3\n{pairs}"
    assert len(text.strip().splitlines()) == 6
    game = read(text)
    outside, inside = game.roles
    assert (game.areas[0].length, game.areas[0].width, outside.touches, game.win.amount) == (18, 18, 2, 3)
    assert (
        Counter(player.role for player in game.players) == {"outside": 6, "inside": 3} and len(game.teams[0].pairs) == 4
    )


def test_what_is_left_out_is_the_same_as_written():
    game = read(SQUARE + LOSS)
    written = (
        """
        format = 1
        title = "My game"
        purpose = "Keep the ball."
        bouts = { count = 4, minutes = 3, rest_minutes = 1 }
        start.side = "outside"
        areas.square = { length = 18, width = 18 }
        teams.squad = {}
        roles.outside = { side = "outside", place = "square", players = 6, touches = 2, style = "edge" }
        roles.inside = { side = "inside", place = "square", style = "free", players = 3 }
        [phases.play]
        aim = "keep"
        ball_in = "square"
    """
        + LOSS
    )
    assert read(written) == game


def test_goals_make_a_game_to_goals_and_keepers_keep_them():
    game = read(GOALS)
    (phase,) = game.phases
    assert (phase.aim, phase.open, game.family, game.start_side) == ("goal", ("shoot",), "even with goals", "amber")
    assert [role.style for role in game.roles] == ["free", "goal", "goal"]
    assert [team.name for team in game.teams] == ["amber", "slate"]


@pytest.mark.parametrize(("short", "full"), [
    ("restarts.start.seconds = 9", 'restarts.start = { to = "outside", seconds = 9, area = "square" }'),
    ('restarts.again.from = "line"', 'restarts.again = { to = "other", from = "line" }'),
    ("win.passes = 3", 'win = { confirm = "passes", passes = 3 }'),
    ("win.seconds = 2", 'win = { confirm = "hold", seconds = 2 }'),
    ("bouts.seconds = 90", "bouts = { count = 4, seconds = 90, rest_minutes = 1 }"),
])  # fmt: skip
def test_a_table_that_says_a_part_leaves_the_rest_as_usual(short, full):
    assert read(SQUARE + short) == read(SQUARE + full) != read(SQUARE)


def test_every_key_that_may_be_left_out_is_told_so():
    schema = json_schema()
    tables = {"GameSpec": schema, **schema["$defs"]}
    for table, keys in LEFT_OUT.items():
        for key, default in keys.items():
            assert key not in tables[table].get("required", ())
            assert tables[table]["properties"][key]["description"].endswith(f"Default: {default}.")


def test_what_is_left_out_is_told():
    told = dict(read_game(tomllib.loads(SQUARE)).left_out)
    assert told["areas.square.width"] == 18 and told["bouts.minutes"] == 3 and told["start.side"] == "outside"
    assert told["restarts.out"]["to"] == "other" and told["teams.squad.population"] == "amateur men"
    assert "areas.square.length" not in told and "roles.outside.style" not in told
    changed = dict(read_game(tomllib.loads(SQUARE), ["bouts.minutes=5", "areas.square.width=12"]).left_out)
    assert "bouts.minutes" not in changed and "areas.square.width" not in changed
    game = read_game(tomllib.loads(SQUARE)).game
    for key, value in told.items():  # what is told can be written, and changes nothing
        if not isinstance(value, dict):
            assert load_game(tomllib.loads(SQUARE), [f"{key}={json.dumps(value)}"]) == game, key


# --- written once


def test_the_same_for_the_other_side():
    game = read(GOALS)
    west, east = game.goals
    assert (west.name, west.end, west.attacked_by) == ("west-goal", "west", "slate")
    assert (east.name, east.end, east.attacked_by, east.x) == ("east-goal", "east", "amber", -west.x)
    assert [player.role for player in game.players if player.team == "slate"].count("east-keeper") == 1


def test_a_rule_for_the_other_side_has_the_names_of_that_side():
    rule = 'rules.amber-five = { on = "passes", count = 5, by = "amber", do = [{ score = 2, to = "slate" }], other_side = true }'
    one, other = read(GOALS + rule).phases[0].rules
    assert (one.name, one.by, one.do[0].to) == ("amber-five", "amber", "slate")
    assert (other.name, other.by, other.do[0].to, other.count) == ("slate-five", "slate", "amber", 5)


def test_a_place_on_the_other_side_is_turned_by_half_a_turn():
    placed = "areas.west = { length = 9, centre = [-12, 3], other_side = true }\n"
    game = read(placed + 'roles.out = { players = 4, place = "west" }\nroles.in = { players = 2, place = "west" }')
    assert [(area.name, area.x, area.y) for area in game.areas] == [("west", -12, 3), ("east", 12, -3)]


def test_a_rule_on_several_events_is_one_for_each():
    over = 'rules.over = { on = ["goal", "out"], do = [{ restart = "start" }] }'
    first, second = read(GOALS + over).phases[0].rules
    assert (first.name, first.on, second.name, second.on) == ("over-goal", "goal", "over-out", "out")
    assert first.do == second.do


def test_a_list_of_actions_is_used_by_its_name():
    again = 'actions.again = [{ score = 1, to = "amber" }, { restart = "start" }]\n'
    rules = 'rules.goal = { on = "goal", do = ["again"] }\nrules.late = { on = "time", count = 9, do = [{ score = 2 }, "again"] }'
    game = read(again + GOALS + rules)
    goal, late = game.phases[0].rules
    assert late.do[1:] == goal.do and len(goal.do) == 2
    data = tomllib.loads(again + GOALS + rules)
    changed = load_game(data, ["rules.goal.do.score.score=3"])
    assert [rule.do[-2].value for rule in changed.phases[0].rules] == [3, 1]  # a change of one use leaves the other


def test_changes_go_by_the_places_of_the_file_and_of_the_full_form():
    data = tomllib.loads(SQUARE + 'rules.point = { on = "passes", count = 5, do = [{ score = 1 }] }')
    for change in ("rules.point.count=7", "phases.play.rules.point.count=7"):
        assert load_game(data, [change]).phases[0].rules[0].count == 7
    over = tomllib.loads(GOALS + 'rules.over = { on = ["goal", "out"], do = [{ score = 1, to = "amber" }] }')
    assert [rule.do[0].value for rule in load_game(over, ["rules.over.do.score.score=4"]).phases[0].rules] == [4, 4]


def test_the_full_form_stays_as_it_is():
    full = whole(tomllib.loads(SQUARE + LOSS), "mine").spec
    again = whole(full, "other")
    assert (again.spec, again.filled, again.problems) == (full, {}, ())


# --- refused


@pytest.mark.parametrize(("more", "message"), [
    ("actions.again = [{ restart = 'start' }]\n", "actions.again must be used by the do of some rule (got none)"),
    ("actions.again = 'start'\n" + LOSS, 'actions.again must be a list of tables with one verb each (got "start")'),
    ("actions.again = [{ end = 'bout' }]\nrules.a = { on = 'win', do = ['again'] }\nrules.b = { on = 'loss', do = ['agian'] }",
     'rules.b.do must be a list in actions: again (got "agian")'),
    ("rules.a = { on = 'loss', do = ['again'] }", "rules.a.do must be a table with exactly one verb of open, close, score,"),
    ("rules.a = { on = ['loss', 'out'], do = [{ end = 'bout' }] }",
     'rules.a.on must hold events that never come of the same ball, or its rule would answer twice (got "loss" and "out")'),
    ("rules.a = { on = ['win', 'won back'], do = [{ end = 'bout' }] }",
     'rules.a.on must hold events that never come of the same ball, or its rule would answer twice (got "win" and "won back")'),
    ("rules.a = { on = ['transfer', 'pass'], do = [{ end = 'bout' }] }",
     'rules.a.on must hold events that never come of the same ball, or its rule would answer twice (got "transfer" and "pass")'),
    ("rules.a = { on = ['win', 'win'], do = [{ end = 'bout' }] }",
     'rules.a.on must hold events that never come of the same ball, or its rule would answer twice (got "win" twice)'),
    ("rules.a = { on = [], do = [{ end = 'bout' }] }", "rules.a.on must be an event, or a list of events (got [])"),
    ("rules.a = { on = ['time', 'los'], count = 4, do = [{ end = 'bout' }] }", "rules.a.on must be one of loss, win, out,"),
    ("rules.a = { on = ['time', 'loss'], count = 4, do = [{ end = 'bout' }] }", 'rules.a.count must be left out unless on'),
    ("rules.a-win = { on = 'win', do = [{ end = 'bout' }] }\nrules.a = { on = ['win', 'out'], do = [{ end = 'bout' }] }",
     "rules.a-win must have another name, as rules.a makes one of this name (got both)"),
    ("rules = 3", "rules must be a table (got 3)"),
    ("rules.a.on = 'loss'", "rules.a.do must be given (got nothing)"),
    ("rules.a = { on = 'loss', dou = [] }", "rules.a.dou is not a key here (did you mean do or count?)"),
    ("rulse.a = 1", "rulse is not a key here (did you mean rules"),
    (LOSS + "[phases.keep.rules.b]\non = 'win'\ndo = [{ end = 'bout' }]",
     "rules must stand in phases where there are several, or rules there (got phases.keep.rules)"),
    ("restarts.out.other_side = true", 'restarts.out.other_side must stand where the name has a word that changes: west, east, '),
    ("restarts.west = { other_side = 2 }", "restarts.west.other_side must be true or left out (got 2)"),
    ("restarts.west.other_side = true\nrestarts.east.other_side = true",
     "restarts.east must have another name, as restarts.west makes one of this name (got both)"),
    ("roles.spare.style = 'free'", "roles.spare.players must be given, as no rule puts anybody in this role (got nothing)"),
    ("areas.small.width = 3", "areas.small.length must be given (got nothing)"),
], ids=lambda one: one[:30])  # fmt: skip
def test_a_mistake_in_a_short_file_is_named_where_it_stands(more, message):
    assert any(problem.startswith(message) for problem in refused(SQUARE + more)), refused(SQUARE + more)


@pytest.mark.parametrize(("text", "missing"), [("", ["areas", "roles"]), ("areas.a.length = 9", ["roles"])])
def test_what_cannot_be_left_out_is_asked_for(text, missing):
    found = refused(text)
    assert [f"{key} must be given (got nothing)" in found for key in missing] == [True] * len(missing)


def test_one_mistake_is_told_once_and_not_again_of_what_follows_from_it():
    assert refused(SQUARE.replace("18", "-3")) == ["areas.square.length must be greater than 0 (got -3)"]
    assert refused(SQUARE.replace("18", "200")) == ["areas.square.length must be at most 150 metres (got 200.0)"]


def test_a_typing_error_of_a_team_is_no_new_team():
    assert any("roles.outfield.players.ambr must be a team" in one for one in refused(
        'teams.amber.population = "U12"\nteams.slate.population = "U12"\n' + GOALS.replace("amber = 4", "ambr = 4")
    ))  # fmt: skip


def test_the_word_is_no_word_of_the_full_form():
    assert OTHER_SIDE not in str(whole(tomllib.loads(GOALS), "mine").spec)


def test_what_stands_once_for_both_sides_is_told_once():
    text = """
        areas.pitch = { length = 40, width = 30 }
        roles.player.players = { amber = 4, slate = 4 }
        roles.west-keeper = { place = "west-goal", players = { amber = 1 }, other_side = true }
        goals.west-goal = { at = "west end of pitch", attacked_by = "slate", other_side = true }
    """
    paths = [path for path, _ in read_game(tomllib.loads(text)).left_out]
    assert "roles.west-keeper.touches" in paths and len(paths) == len(set(paths))
