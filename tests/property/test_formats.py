"""Every shipped format is played as it is meant: what makes it that game happens, and without it the game goes another way."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

import pytest

from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.players import draw_roster
from sim.plots.diagram import diagram
from sim.plots.on_sheet import drawing
from sim.report.replay import replay_page
from sim.report.sheet import sheet_page
from sim.report.sheet_setting import setting_of
from sim.words.rules import rules_in_words
from sim.words.sheet import sheet_of
from tests.support.games import GAMES

GONE = object()
MOST_BOUTS, LONGEST_S = 12, 100.0
LOST = "rules.lost.do"
SINGLY = [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]


class Format(NamedTuple):
    """A shipped format: what has to happen (rules that answer, kinds of events), and what to write instead of what makes it."""

    happens: tuple[str, ...]
    without: Mapping[str, Any]


FORMATS = {
    "in-pairs": Format(("lost", "swap"), {LOST: SINGLY, "teams.squad.pairs": GONE}),
    "hunt-in-turn": Format(("won", "score"), {"rules.won": GONE}),
    "three-colours": Format(("lost", "swap"), {LOST: [{"restart": "start"}]}),
    "win-it-back": Format(("window", "regained", "late", "over"), {LOST: [{"window": 0.5}]}),
    "one-more": Format(("more", "lost", "phase", "swap"), {"rules.lost.do": [{"restart": "start"}]}),
    "four-gates": Format(("gate",), {"rules.gate.other_gate": GONE}),
    "four-goals": Format(("unlock", "goal", "lost"), {"rules.lost": GONE}),
    "six-on-four": Format(("single", "double"), {"rules.double.count": 12}),
    "losers-off": Format(("goal", "swap"), {"rules.goal.do": [{"score": 1}, {"restart": "keeper-ball"}]}),
    "eight-balls": Format(("lost", "six"), {"restarts.next.area": "active"}),
    "end-to-end": Format(("there", "back", "phase"), {"phases.east.open": GONE}),
    "no-way-back": Format(("over", "count"), {"counters.over.not_back": GONE}),
    "keep-or-score": Format(("eight", "shot"), {"rules.eight": GONE}),
    "play-out": Format(("contested", "lost", "win"), {"win": GONE}),
    "on-the-line": Format(("lost", "swap"), {"players": GONE}),
    "three-lives": Format(("step", "last-life", "swap"), {"rules.last-life": GONE}),
    "eights": Format(("ten",), {"roles.player.positions": GONE}),
    "wide-and-tight": Format(("eight",), {"roles.player.with_ball": GONE}),
    "end-zones": Format(("west-pass", "east-pass", "west-carry", "east-carry"), {"zones.west-end.closed_to": GONE}),
    "keeper-to-keeper": Format(("there", "back", "phase"), {"zones.west-end.closed_to": GONE}),
    "locked-thirds": Format(
        ("amber-step", "slate-step", "amber-on", "slate-on", "amber-back", "slate-back"),
        {"zones.middle.most": {"amber": 3}},
    ),
    "waves": Format(("west", "east"), {"rules.west.do": [{"restart": "start"}]}),
    "smaller-ground": Format(("six", "ground", "lost", "swap"), {"rules.six.do": [{"score": 1}]}),
    "three-strips": Format(("four", "over", "lost", "swap"), {LOST: [{"close": "transfer"}, {"restart": "start"}]}),
    "three-squares": Format(("four", "there", "lost", "swap"), {"rules.four.count": 8}),
    "second-ball": Format(("called", "six"), {"rules.called": GONE}),
}


def file_of(name: str) -> dict[str, Any]:
    return tomllib.loads(shipped_games()[name].read_text(encoding="utf-8")) | {"name": name}


def game_of(name: str, instead: Mapping[str, Any]) -> Game:
    """The format with other values at these paths of its file."""
    data = file_of(name)
    for path, value in instead.items():
        *way, last = path.split(".")
        table = data
        for part in way:
            table = table[part]
        if value is GONE:
            del table[last]
        else:
            table[last] = value
    game = load_game(data)
    short = min(game.bouts.seconds, LONGEST_S)
    return game.model_copy(update={"bouts": game.bouts.model_copy(update={"seconds": short})})


def bouts_of(game: Game) -> Iterator[BoutLog]:
    """One short bout of session after session."""
    for session in range(MOST_BOUTS):
        yield play_bout(game, draw_roster(game, 3, session), 3, session, 0)


@cache
def played(name: str) -> tuple[BoutLog, ...]:
    """Bouts of the format, until all that has to happen has happened, or as many as there may be."""
    logs: list[BoutLog] = []
    for log in bouts_of(game_of(name, {})):
        logs.append(log)
        if not missing(name, logs):
            break
    return tuple(logs)


def missing(name: str, logs: list[BoutLog] | tuple[BoutLog, ...]) -> set[str]:
    seen = {str(event[2]) for log in logs for event in log.events}
    seen |= {event[6] for log in logs for event in log.events if event[2] == "rule"}
    return set(FORMATS[name].happens) - seen


def test_every_format_that_is_shipped_stands_here():
    assert set(FORMATS) | set(GAMES) == set(shipped_games())


@pytest.mark.slow
@pytest.mark.parametrize("name", FORMATS)
def test_what_makes_the_game_happens_and_without_it_the_log_is_another(name: str):
    logs = played(name)
    assert missing(name, logs) == set()
    other = bouts_of(game_of(name, FORMATS[name].without))
    assert any(log.events != another.events for log, another in zip(logs, other, strict=False))


@pytest.mark.slow
@pytest.mark.parametrize("name", FORMATS)
def test_it_is_printed_drawn_put_on_a_sheet_and_replayed(name: str):
    game, log = game_of(name, {}), played(name)[0]
    assert game.title in rules_in_words(game) and len(file_of(name)["purpose"]) <= 120
    drawn = diagram(game, "svg", (), "m")
    assert drawn.startswith(b"<?xml")
    sheet = sheet_of(game, "0", None, (), "m", 1, 1)
    setting = setting_of(sheet, drawing(game, "svg"))
    assert len(setting.sides) == 2 and sheet.purpose in sheet_page(sheet, setting)
    assert game.title in replay_page([("", game, log)])
