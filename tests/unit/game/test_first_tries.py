"""What somebody who writes a game from the page alone falls over: said in his words, each thing once, with the way out."""

from __future__ import annotations

import tomllib

import pytest

from sim.errors import InputError
from sim.game.intake import parsed
from sim.game.loader import load_game, read_game
from sim.words.rules import rules_in_words
from tests.support.short_files import GOALS, SQUARE

GATES = "gates.north = { centre = [0, 5] }\ngates.south = { centre = [0, -5] }\n"
FIVE = 'rules.five = { on = "passes", count = 5, do = [{ open = "shoot" }] }\n'


def refused(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        load_game(parsed(text, "mine.toml"))
    return list(caught.value.problems)


def printed(text: str) -> str:
    return " ".join(rules_in_words(load_game(tomllib.loads(text))).split())


@pytest.mark.parametrize(("line", "cure"), [
    ('roles.outside.side = "outside"',
     "line 5: roles.outside is written in braces { }, so side must stand inside these, not on a line of its own"),
    ("roles.inside.players = 4", "line 5: roles.inside.players is written further up already, so one of the two must go"),
    ("[roles.outside]\npress = 1", "line 5: roles.outside is written further up already, so what stands here must stand there"),
])  # fmt: skip
def test_what_is_written_in_two_places_is_told_with_the_cure(line, cure):
    assert refused(SQUARE + line) == [f"the file must be valid TOML (got: {cure})"]


def test_other_mistakes_of_the_writing_are_told_as_the_reader_tells_them():
    (told,) = refused(SQUARE + "roles.third =\n")
    assert told.startswith("the file must be valid TOML (got: Invalid value")


@pytest.mark.parametrize(("more", "message"), [
    ('rules.a = { on = "lost", do = [{ restart = "start" }] }', '(got "lost"; did you mean loss?)'),
    ('rules.a = { on = "loss", do = [{ swap = "loser" }] }',
     'rules.a.do.swap.with must be given: "winner", "longest in", "next on the list" or "waiting" (got nothing)'),
    ("win.goals = 3", "win.goals is not a key here (did you mean bouts.first_to, which ends a bout?)"),
    ('roles.third = { area = "square", players = 2 }', "roles.third.area is not a key here (did you mean place?)"),
    ('[roles.third]\nbouts.minutes = 3', "did you mean bouts of the whole file, which must stand above the first line in [ ]?"),
    ('rules.a = { on = "loss", do = [{ restart = "goal" }] }',
     'must be a restart: start or out (got "goal"; one of your own is made by restarts.goal = { to = "other" })'),
    ("bouts.first_to = 5", "bouts.first_to must be left out where no rule gives points, { score = 1 } (got 5.0)"),
    ("bouts.level_seconds = 30", "bouts.level_seconds must be left out where no rule gives points, { score = 1 } (got 30.0)"),
])  # fmt: skip
def test_the_word_that_is_meant_is_named(more, message):
    (told,) = refused(SQUARE + more)
    assert message in told


def test_a_mistyped_key_is_told_alone():
    rule = 'rules.gate = { on = "pass", thruogh = "any", other_gate = true, do = [{ score = 1 }] }'
    assert refused(SQUARE + GATES + rule) == ["rules.gate.thruogh is not a key here (did you mean through?)"]
    load_game(tomllib.loads(SQUARE + GATES + rule.replace("thruogh", "through")))


def test_a_file_with_only_an_area_is_asked_for_roles_alone():
    assert refused("areas.square.length = 18") == ["roles must be given (got nothing)"]


def test_what_is_open_already_cannot_be_opened():
    (told,) = refused(GOALS + FIVE)
    assert told.startswith(
        "rules.five.do.open must open what is closed until then: with phases.play.open = [] it is (got"
    )
    again = GOALS + FIVE + 'rules.won = { on = "win", do = [{ close = "shoot" }] }'
    assert load_game(tomllib.loads(again)).phases[0].open == ("shoot",)


def test_the_only_phase_goes_for_goal_also_where_it_says_what_is_open():
    (phase,) = load_game(tomllib.loads(GOALS + "phases.play.open = []\n" + FIVE)).phases
    assert (phase.aim, phase.open) == ("goal", ())
    (kept,) = load_game(tomllib.loads(GOALS + 'phases.play.aim = "keep"')).phases
    assert (kept.aim, kept.open) == ("keep", ())


def test_a_restart_after_a_goal_cannot_go_to_a_loser_of_two_kinds():
    rule = 'restarts.again.to = "{}"\nrules.goal = {{ on = "goal", do = [{{ restart = "again" }}] }}'
    (told,) = refused(GOALS + rule.format("loser"))
    assert told.startswith('rules.goal.do.restart must be a restart to "other" (the side that conceded), to "same"')
    assert "to the side that conceded" in printed(GOALS + rule.format("other"))
    assert "to the side that scored" in printed(GOALS + rule.format("same"))


def test_after_a_goal_the_side_that_conceded_has_it_where_the_file_leaves_that_out():
    game = load_game(tomllib.loads(GOALS))
    assert (game.after_goal, game.restart("goal").to, game.restart("start").to) == ("goal", "other", "amber")
    assert "On a goal: after 4 s the server plays a new ball in to the side that conceded." in printed(GOALS)
    assert load_game(tomllib.loads(GOALS + "restarts.start.seconds = 4")).after_goal == "start"
    one_goal = GOALS.replace(", other_side = true }\nroles.outfield", " }\nroles.outfield").partition("roles.west")[0]
    assert load_game(tomllib.loads(f'{one_goal}start.side = "slate"')).after_goal == "start"
    changed = load_game(tomllib.loads(GOALS), ["restarts.goal.seconds=9"]).restart("goal")
    assert (changed.to, changed.seconds, changed.area) == ("other", 9, "pitch")


# --- one side written apart


APART = GOALS + "roles.east-keeper = { touches = 1, press = 0.9 }\n"


def of_keepers(game, key: str) -> list:
    return [getattr(game.role(f"{side}-keeper"), key) for side in ("west", "east")]


def test_what_is_written_of_the_other_side_alone_holds_there():
    game = load_game(tomllib.loads(APART))
    assert of_keepers(game, "touches") == [None, 1] and of_keepers(game, "press") == [0.5, 0.9]
    assert refused(GOALS + "roles.east-keeper.touches = 99") == [
        'roles.east-keeper.touches must be "free" or a whole number from 1 to 10 (got 99)'
    ]


def test_a_change_of_what_is_written_once_changes_both_sides_but_for_what_one_says_alone():
    assert of_keepers(load_game(tomllib.loads(GOALS), ["roles.west-keeper.touches=3"]), "touches") == [3, 3]
    assert of_keepers(load_game(tomllib.loads(APART), ["roles.west-keeper.touches=3"]), "touches") == [3, 1]
    assert of_keepers(load_game(tomllib.loads(APART), ["roles.west-keeper.tempo=0.9"]), "tempo") == [0.9, 0.9]
    assert of_keepers(load_game(tomllib.loads(APART), ["roles.east-keeper.touches=4"]), "touches") == [None, 4]
    rule = "rules.west-over = { on = ['goal', 'out'], by = 'amber', do = [{ score = 1 }], other_side = true }"
    changed = load_game(tomllib.loads(GOALS + rule), ["rules.west-over.do.score.score=3"])
    assert [one.do[0].value for one in changed.phases[0].rules] == [3, 3, 3, 3]


def test_a_gate_stands_on_the_other_side_too():
    gate = "gates.west-gate = { centre = [-9, 4], width = 3, other_side = true }\n"
    rule = 'rules.west = { on = "pass", through = "west-gate", do = [{ score = 1 }], other_side = true }'
    west, east = load_game(tomllib.loads(GOALS + gate + rule)).gates
    assert (west.x, west.y, east.name, east.x, east.y, east.way) == (-9, 4, "east-gate", 9, -4, "west-east")


# --- what is printed


def test_the_words_say_what_was_misread():
    text = printed(GOALS + 'rules.five = { on = "passes", count = 5, do = [{ score = 1 }] }')
    assert "What passes in a row bring comes once, and again only when the count has started afresh." in text
    assert "Passes by keepers and to them count like any other." in text
    assert "Quillhaven" not in text and printed('club = "Ours"\n' + GOALS).startswith("Game (Ours)")
    assert "Passes by keepers" not in printed(GOALS)
    gate = 'rules.gate = { on = "pass", through = "any", not_back = true, do = [{ score = 1 }] }'
    assert "Complete a pass through any gate, not straight back to whom it came from: a point" in printed(
        SQUARE + GATES + gate
    )


ACROSS = """
areas.near.length = 14
areas.far = { length = 14, beside = "near", on = "east", gap = 8 }
roles.outside.players = 6
roles.inside.players = 2
rules.four = { on = "passes", count = 4, do = [{ open = "transfer" }] }
rules.across = { on = "transfer", do = [{ close = "transfer" }] }
"""


def test_that_a_row_of_passes_opens_the_way_across_once_is_said():
    once = "After a ball across they cannot play across again in the same row of passes"
    assert once in printed(ACROSS)
    assert once not in printed(ACROSS.replace("[{ close", '[{ reset = "passes" }, { close'))


def test_that_a_goal_is_a_loss_as_well_is_said_wherever_something_follows_a_loss():
    swap = 'rules.lost = { on = "loss", do = [{ score = 1, to = "winner" }] }\n'
    counts = "After a goal, a saved shot or a missed shot what follows a loss follows, too"
    assert counts in printed(GOALS + swap)
    after = printed(GOALS + swap + 'rules.goal = { on = "goal", do = [{ restart = "start" }] }')
    assert "After a saved shot or a missed shot what follows a loss follows, too" in after
    assert "After a goal its own rule gives the new ball: nothing of a loss follows." in after


def test_what_is_left_out_goes_by_the_places_of_the_file():
    paths = [path for path, _ in read_game(tomllib.loads(GOALS)).left_out]
    assert "roles.east-keeper.side" not in paths and "roles.west-keeper.side" in paths
