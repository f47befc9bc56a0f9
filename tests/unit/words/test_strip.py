"""The strip of one bout, on a short bout written by hand: every second of it is known."""

from __future__ import annotations

import csv
import io
import math

import numpy as np
import pytest

from sim import load_game, play
from sim.game.model import (
    Area,
    Bouts,
    Game,
    Phase,
    Player,
    Restart,
    Role,
    Supply,
    Team,
    Win,
)
from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import FIELDS, BoutLog
from sim.trajectory import RUN
from sim.words.commentary import event_told, names_grouped
from sim.words.screen import WIDTH
from sim.words.strip import MARKS, bout_in_words, events_as_csv, short_names, spells, strip
from tests.support.games import GAMES as SIX
from tests.support.screens import NOT_OURS, said


def player(team: str, number: int, role: str) -> Player:
    return Player(
        id=f"{team}-{number}",
        team=team,
        number=number,
        role=role,
        pass_success=None,
        pressing_speed=None,
        recovery=None,
    )


def restart(name: str) -> Restart:
    return Restart(name=name, to="other", source="server", seconds=3.0, area="yard")


def small_game(*players: Player) -> Game:
    teams = sorted({one.team for one in players})
    return Game(
        format=1,
        name="two-a-side",
        title="Two a side",
        purpose="Nothing but a test.",
        club="Quillhaven",
        family="even keep-ball",
        start_side="rust",
        start_phase="keep",
        start_area="yard",
        hold_limit_s=6.0,
        between_areas="out",
        areas=(Area(name="yard", length=10, width=10, x=0, y=0, run_off=3),),
        goals=(),
        teams=tuple(
            Team(
                name=team,
                population="amateur men",
                home=None,
                players=tuple(one.id for one in players if one.team == team),
            )
            for team in teams
        ),
        players=tuple(sorted(players, key=lambda one: one.id)),
        roles=(Role(name="all", side="team", style="free", place="active", touches=None),),
        phases=(Phase(name="keep", aim="keep", ball_in="active", open=(), jobs=(), rules=()),),
        restarts=(restart("start"), restart("out")),
        supply=Supply(balls=4, retrieve_seconds=5),
        bouts=Bouts(count=1, seconds=20, rest_seconds=0, rotate="none"),
        win=Win(confirm="control", amount=0),
    )


GAME = small_game(
    player("rust", 1, "all"), player("rust", 2, "all"), player("navy", 3, "all"), player("navy", 4, "all")
)


def event(t: float, kind: str, **known) -> tuple:
    row = {"player": "", "other": "", "side": "", "cause": "", "detail": "", "value": math.nan, "x": 0.0, "y": 0.0}
    row |= {"phase": "keep", "area": "yard", "passes": 0} | known | {"t": t, "kind": kind, "seq": 0}
    return tuple(row[name] for name in FIELDS)


def log_of(*events: tuple, duration_s: float = 20.0) -> BoutLog:
    return BoutLog(
        game="two-a-side",
        seed=5,
        replicate=0,
        bout=0,
        duration_s=duration_s,
        players=("navy-3", "navy-4", "rust-1", "rust-2"),
        teams=("navy", "navy", "rust", "rust"),
        roles=("all",),
        events=events,
        segments=np.zeros(0, RUN),
    )


LOG = log_of(
    event(0.0, "begin", side="rust"),
    event(0.0, "live", side="rust", other="rust-1"),
    event(2.0, "possession", side="rust", player="rust-1"),
    event(5.0, "release", side="rust", player="rust-1", other="rust-2", value=6.4, cause="pressed", detail="pass"),
    event(6.0, "receive", side="rust", player="rust-2", other="rust-1", value=6.4, passes=1),
    event(10.0, "loss", side="rust", player="rust-2", other="navy-4", cause="interception"),
    event(10.0, "possession", side="navy", player="navy-4"),
    event(10.0, "win", side="navy", player="navy-4"),
    event(12.0, "score", side="navy", value=1.0, cause="won it"),
    event(14.0, "loss", side="navy", player="navy-4", cause="out"),
    event(14.0, "out", side="rust", player="navy-4"),
    event(14.0, "dead", cause="out"),
    event(19.0, "live", side="rust", other="rust-1"),
    event(20.0, "end", cause=""),
)


def test_spells_cover_the_bout_without_gaps():
    found = list(spells(LOG))
    assert [(one.start_s, one.end_s, one.state, one.player) for one in found] == [
        (0.0, 2.0, "coming", ""),
        (2.0, 6.0, "held", "rust-1"),
        (6.0, 10.0, "held", "rust-2"),
        (10.0, 14.0, "held", "navy-4"),
        (14.0, 19.0, "dead", ""),
        (19.0, 20.0, "coming", ""),
    ]


def test_a_ball_nobody_has_after_a_loss_is_loose():
    log = log_of(
        event(0.0, "possession", side="rust", player="rust-1"),
        event(4.0, "loss", side="rust", player="rust-1", cause="miscontrol"),
        event(6.0, "possession", side="navy", player="navy-3"),
        event(8.0, "end"),
        duration_s=8.0,
    )
    assert [(one.state, one.start_s, one.end_s) for one in spells(log)] == [
        ("held", 0.0, 4.0),
        ("loose", 4.0, 6.0),
        ("held", 6.0, 8.0),
    ]


def test_the_strip_shows_who_has_the_ball_in_every_cell():
    assert strip(GAME, LOG).splitlines() == [
        "        0 s       10 s",
        "rust    ~ 1 1 2 2     . . .",
        "navy              4 4 . . .",
        "marks             x + x",
    ]


def test_the_order_of_the_list_of_players_makes_no_difference():
    turned = small_game(*reversed([one.model_copy() for one in GAME.players]))
    assert strip(turned, LOG) == strip(GAME, LOG)


def test_numbers_worn_twice_get_the_first_letters_of_the_team():
    game = small_game(player("rust", 1, "all"), player("ruby", 1, "all"), player("rust", 2, "all"))
    log = log_of(
        event(0.0, "possession", side="rust", player="rust-1"),
        event(2.0, "receive", side="rust", player="rust-2"),
        event(4.0, "end"),
        duration_s=4.0,
    )
    assert strip(game, log).splitlines()[1] == "rust    rus1    2"


def test_a_long_bout_goes_over_several_lines_with_the_seconds_above():
    log = log_of(event(0.0, "possession", side="rust", player="rust-1"), event(90.0, "end"), duration_s=90.0)
    blocks = strip(GAME, log).split("\n\n")
    assert [block.splitlines()[0].split() for block in blocks] == [
        ["0", "s", "10", "s", "20", "s", "30", "s"],
        ["40", "s", "50", "s", "60", "s", "70", "s"],
        ["80", "s"],
    ]
    assert blocks[2].splitlines()[1] == "rust    1 1 1 1 1"


def test_the_summary_counts_what_the_log_holds():
    text = bout_in_words(GAME, LOG)
    assert "Two a side: bout 1, 20 s on the watch, seed 5" in text
    assert "The ball rolled for 15 of 20 s on the watch (75 %).\nOn the ball: rust 8 s, navy 4 s." in text
    assert "1 passes completed" not in text
    assert "1 pass completed, 2 losses; points: navy 1." in text


def test_the_legend_explains_only_the_marks_that_occur():
    text = bout_in_words(GAME, LOG)
    assert "Marks: + points, x loss." in text
    assert MARKS["break"][1] not in text


def test_the_list_tells_the_bout_in_order():
    lines = [line.strip() for line in bout_in_words(GAME, LOG).splitlines() if " s  " in line[:12]]
    assert lines == [
        "0.0 s  the bout begins",
        "0.0 s  ball in to rust 1",
        "2.0 s  rust 1 on the ball for rust",
        "5.0 s  rust 1 to rust 2, 6 m, under pressure",
        "6.0 s  rust 2 has it",
        "10.0 s  LOSS: rust 2 loses it for rust, cut out by navy 4",
        "10.0 s  navy 4 on the ball for navy",
        "10.0 s  navy 4 wins it for navy",
        "12.0 s  1 point for navy (won it)",
        "14.0 s  LOSS: navy 4 loses it for navy, out of play",
        "14.0 s  out, off navy 4",
        "14.0 s  play stops: out of play",
        "19.0 s  ball in to rust 1",
        "20.0 s  the bout is over",
    ]


def test_a_ball_that_is_now_in_another_area_is_told():
    log = log_of(event(3.0, "area", side="rust", player="rust-1", detail="yard>east", area="east"), duration_s=6.0)
    assert "rust 1 has it in the right area, play goes on there" in bout_in_words(GAME, log)


def test_the_csv_holds_every_event_and_leaves_undefined_numbers_empty():
    rows = list(csv.DictReader(io.StringIO(events_as_csv(LOG))))
    assert list(rows[0]) == list(FIELDS)
    assert len(rows) == len(LOG.events)
    assert rows[3]["value"] == "6.4"
    assert rows[0]["value"] == ""


@pytest.mark.parametrize("kind", sorted(MARKS))
def test_every_mark_is_shown_where_it_happens(kind: str):
    log = log_of(event(0.0, "possession", side="rust", player="rust-1"), event(3.0, kind, side="rust"), duration_s=6.0)
    assert strip(GAME, log).splitlines()[-1] == "marks     " + MARKS[kind][0]


def test_a_point_names_its_rule_and_never_nothing():
    def line(cause: str) -> str:
        return event_told(
            LoggedEvent(1.0, 1, "score", "", "", "outside", cause, "", 1.0, 0.0, 0.0, "keep", "square", 0)
        )

    assert line("six") == "1 point for outside (six)"
    assert line("") == "1 point for outside"


SHOTS = log_of(
    event(0.0, "possession", side="rust", player="rust-1"),
    event(5.0, "shot", side="rust", player="rust-1", value=9.0),
    event(5.5, "goal", side="rust", player="rust-1", other="rust-1"),
    event(5.5, "loss", side="rust", player="rust-1", cause="shot"),
    event(5.5, "score", side="rust", value=1.0, cause="goal"),
    event(5.5, "dead", cause="goal"),
    event(9.0, "possession", side="rust", player="rust-2"),
    event(9.2, "transfer", side="rust", player="rust-2", detail="yard>east"),
    event(9.4, "score", side="rust", value=1.0, cause="across"),
    event(11.0, "save", side="rust", player="navy-3", other="rust-2"),
    event(11.0, "loss", side="rust", player="rust-2", other="navy-3", cause="shot"),
    event(11.0, "possession", side="navy", player="navy-3"),
    event(15.0, "loss", side="navy", player="navy-3", other="rust-1", cause="tackle"),
    event(20.0, "end"),
)


def test_a_goal_is_seen_and_the_legend_holds_what_is_shown():
    assert strip(GAME, SHOTS).splitlines()[-1] == "marks       G   + /   x"
    assert "Marks: G goal, + points, x loss, / shot that ends the attack." in bout_in_words(GAME, SHOTS)


def test_what_a_shot_ends_is_no_loss():
    text = bout_in_words(GAME, SHOTS)
    assert "0 passes completed, 1 loss, 2 attacks ended with a shot; points: rust 2." in text
    assert "   5.5 s  rust 1's shot ends it for rust\n" in text
    assert "  11.0 s  rust 2's shot ends it for rust, navy 3 has it\n" in text
    assert text.count("LOSS") == 1


def test_who_takes_a_role_is_told_and_not_what_the_bout_begins_with():
    def job(t: float, who: str, role: str) -> tuple:
        return event(t, "job", player=who, cause=role, detail="free")

    log = log_of(
        event(0.0, "begin", side="rust"),
        *(job(0.0, who, "all") for who in ("navy-3", "navy-4", "rust-1", "rust-2")),
        event(3.0, "rule", cause="five"),
        job(3.0, "rust-1", "runner"),
        job(3.0, "rust-2", "runner"),
        job(3.0, "navy-4", "chaser"),
        event(3.0, "phase", cause="breaking"),
        job(4.0, "navy-3", "all"),
        event(5.0, "swap", player="rust-1", other="navy-4"),
        job(5.0, "rust-1", "chaser"),
        job(5.0, "navy-4", "runner"),
        event(6.0, "phase", cause="keep"),
        job(6.0, "rust-1", "all"),
        event(20.0, "end"),
    )
    lines = [line.strip() for line in bout_in_words(GAME, log).splitlines() if " s  " in line[:12]]
    assert lines == [
        "0.0 s  the bout begins",
        "3.0 s  rule: five",
        "3.0 s  rust 1 and rust 2 become runners; navy 4 becomes a chaser",
        "3.0 s  now: breaking",
        "5.0 s  rust 1 and navy 4 swap",
        "6.0 s  now: keep",
        "6.0 s  rust 1 becomes an all player",
        "20.0 s  the bout is over",
    ]


def test_three_who_take_a_role_are_told_in_one_line():
    people = ("navy-3", "rust-1", "rust-2")
    log = log_of(
        *(event(0.0, "job", player=who, cause=role) for role in ("all", "runner") for who in people),
        event(20.0, "end"),
    )
    assert "navy 3, rust 1 and rust 2 become runners\n" in bout_in_words(GAME, log)


def test_the_bout_begins_with_who_is_in_which_role():
    """Players of the only team by their number; what somebody takes later is not what he begins with."""
    players = [player("squad", number, "outer" if number < 4 else "inner") for number in range(1, 6)]
    log = log_of(
        *(event(0.0, "job", player=one.id, cause=one.role) for one in players),
        event(3.0, "swap", player="squad-1", other="squad-4"),
        event(3.0, "job", player="squad-1", cause="inner"),
        event(4.0, "possession", side="outer", player="squad-2"),
        event(20.0, "end"),
    )
    lines = bout_in_words(small_game(*players), log).splitlines()
    assert lines[2:4] == ["3 outer: players 1 to 3.", "2 inner: players 4 and 5."]
    assert "   3.0 s  player 1 and player 4 swap" in lines and "   4.0 s  player 2 on the ball for outer" in lines


@pytest.mark.parametrize(
    ("event_of", "told"),
    [
        ({"kind": "loss", "cause": "tackle", "other": "B"}, "LOSS: A loses it for red, tackled by B"),
        ({"kind": "loss", "cause": "miscontrol", "other": "B"}, "LOSS: A loses it for red, heavy touch, B has it"),
        ({"kind": "loss", "cause": "misplaced", "other": "B"}, "LOSS: A loses it for red, stray pass, B has it"),
        ({"kind": "loss", "cause": "time limit"}, "LOSS: A loses it for red, held too long"),
        ({"kind": "loss", "cause": "rule fault"}, "LOSS: A loses it for red, against the rules"),
        ({"kind": "tackle", "cause": "won", "other": "B"}, "A goes in on B and wins the ball"),
        ({"kind": "tackle", "cause": "loose", "other": "B"}, "A goes in on B and knocks it loose"),
        ({"kind": "tackle", "cause": "beaten", "other": "B"}, "A goes in on B and is beaten"),
        (
            {"kind": "release", "cause": "free", "other": "B", "detail": "first-time", "value": 8.4},
            "A first time to B, 8 m",
        ),
        (
            {"kind": "release", "cause": "free", "other": "B", "detail": "transfer", "value": 18.0},
            "A across to B, 18 m",
        ),
        ({"kind": "receive", "passes": 7}, "A has it, 7 in a row"),
        ({"kind": "unlock", "cause": "transfer"}, "they can play across now"),
        ({"kind": "unlock", "cause": "shoot"}, "they can shoot now"),
        ({"kind": "threshold", "cause": "passes", "value": 6.0}, "6 passes for red"),
        ({"kind": "live"}, "ball in to A"),
        ({"kind": "live", "player": ""}, "ball in for red"),
        ({"kind": "transfer", "detail": "west>east"}, "A takes it across, west to east"),
        ({"kind": "dead", "cause": "loss"}, "play stops: after the loss"),
    ],
)
def test_events_are_said_as_a_commentator_of_few_words_says_them(event_of: dict, told: str):
    row = dict(zip(FIELDS, event(1.0, "", side="red"), strict=True)) | {"player": "A"} | event_of
    assert event_told(LoggedEvent(**row)) == told


@pytest.mark.slow
@pytest.mark.parametrize("name", SIX)
def test_a_bout_of_a_shipped_game_is_80_columns_wide_and_without_words_of_ours(name: str):
    game = load_game(name, ["bouts.minutes=1"])
    text = bout_in_words(game, play(game, seed=3))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not [word for word in NOT_OURS if said(text, word)]


def test_the_number_on_the_strip_is_the_player_of_that_number():
    """Where the list below says "player 1", the strip says 1, and a keeper's 1 is told apart."""
    found = short_names(load_game("break-away"))
    assert found["squad-1"] == "1" and found["keepers-1"] == "k1" and len(set(found.values())) == len(found)
    assert short_names(load_game("even-goals"))["amber-1"] == "a1"


def test_players_are_put_together_by_team_and_number():
    assert names_grouped(["player 10", "player 6", "player 7"]) == "players 6, 7 and 10"
    assert names_grouped(["amber 2", "amber 1", "amber 3", "slate 4"]) == "amber 1 to 3 and slate 4"
    assert names_grouped(["player 3"]) == "player 3" and names_grouped(["Ali", "amber 2"]) == "amber 2 and Ali"
