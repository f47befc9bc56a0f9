"""A replay: one HTML file that plays one bout, or several side by side, from their logs, with nothing from outside."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sim.experiments.last_line import LINE
from sim.game.model import Game
from sim.pitch.log import BoutLog
from sim.report.bout_data import FLOATS, bout_data
from sim.report.pages import raw, rendered, script_json
from sim.words.replay_words import PAGE, SPEEDS, bout_heading

Bout = tuple[str, Game, BoutLog]
"""(name of the variant or "", the game, its log)"""


LOOKS = 6  # shapes and shades of sides in the style sheet; a seventh side looks like the first


def replay_page(bouts: Sequence[Bout], lead: Sequence[str] = (), foot: Sequence[str] = (LINE,)) -> str:
    """The page; `lead` stands under its title, `foot` at its end (the caution line last)."""
    title = bout_heading(*bouts[0][1:]) if len(bouts) == 1 else " / ".join(name for name, _, _ in bouts)
    found = [bout_data(game, log, bout_heading(game, log, name)) for name, game, log in bouts]
    return rendered(
        "replay.html",
        title=title,
        lead=lead,
        foot=[PAGE["how"], *foot],
        css=raw("replay.css"),
        motion=raw("motion.js"),
        script=raw("replay.js"),
        data=script_json({"bouts": found, "words": PAGE}),
        words=PAGE,
        speeds=SPEEDS,
        bouts=[bout_in_page(one) for one in found],
    )


def bout_in_page(bout: dict[str, Any]) -> dict[str, Any]:
    """What of a bout stands in the page as it is read: who, what happened, and the strip of who has the ball."""
    return {
        "title": bout["title"],
        "key": [PAGE["holder"] if name == FLOATS else name for name, _ in bout["key"]],
        "players": [(i, bout["players"][i]["name"]) for i in bout["inOrder"]],
        "ball": bout["ballInWords"],
        "told": [{"at": watch_time(t), "text": text} for t, text in bout["told"]],
        "lanes": lanes(bout),
        "crosses": [percent(t, bout) for t in bout["losses"]],
    }


def watch_time(t: float) -> str:
    """Seconds on the watch as ``1:02.5``."""
    return f"{int(t // 60)}:{t % 60:04.1f}"


def percent(t: float, bout: dict[str, Any]) -> float:
    """How far a moment lies along the bout, in per cent."""
    seconds: float = bout["seconds"]
    return round(100.0 * t / seconds, 3)


def lanes(bout: dict[str, Any]) -> list[dict[str, Any]]:
    """One lane a side that can have the ball: its spells, and where the ball is out of play."""
    found = []
    for k, side in enumerate(bout["sides"]):
        if side == FLOATS:
            continue
        looks = [
            (start, end, f"s{k % LOOKS}" if state == "held" and whose == side else "out" if state == "dead" else "")
            for start, end, state, whose, _ in bout["spells"]
        ]
        pieces = [piece(*one, bout) for one in joined(looks) if one[2]]
        found.append({"name": bout["called"][side], "fill": bout["fills"].get(side, ""), "pieces": pieces})
    return found


def joined(looks: list[tuple[float, float, str]]) -> list[tuple[float, float, str]]:
    """Stretches that follow each other and look alike, as one."""
    found: list[tuple[float, float, str]] = []
    for start, end, look in looks:
        if found and found[-1][2] == look and found[-1][1] == start:
            start = found.pop()[0]
        found.append((start, end, look))
    return found


def piece(start: float, end: float, look: str, bout: dict[str, Any]) -> dict[str, Any]:
    """A stretch of a lane: how it looks, where it begins and how long it is, in per cent."""
    return {"look": look, "left": percent(start, bout), "width": percent(end - start, bout)}
