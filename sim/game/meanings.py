"""What the events that rules answer to mean, in a line each: for editors, and for the page of the language."""

from __future__ import annotations

from collections.abc import Mapping

EVENTS: Mapping[str, str] = {
    "loss": "a side has lost the ball, in whatever way",
    "win": "an opponent has won it, under control; straight after the loss",
    "out": "the ball is over the line; by the side that touched it last",
    "passes": "a side has just made so many in a row",
    "wins": "a side has just won it so many times",
    "transfer": "a pass to another area is under control there",
    "home": "the ball is under control in the side's own home",
    "goal": "a shot went in; a loss by a shot, too, unless a rule on goal brings the next ball or ends the bout (so save, miss)",
    "save": "the keeper has held a shot",
    "miss": "a shot went wide or over",
    "time": "so many seconds have passed since the phase began",
    "pass": "a pass is completed, such as the conditions ask for; after passes",
    "carry": "a player has carried the ball into the area or zone of to",
    "counter": "a counter of your own has come to count",
    "won back": "a side has the ball back within its window, in whatever way the others lost it; after the loss and the win",
    "not won back": "a window is over: its seconds by the watch, or the last of its passes; by the side that lost it",
    "foul": "a tackle was a foul, by the side that fouled; the restart called foul comes after it, unless a rule brings another "
    "ball; needs fouls.share",
}


def what_has_to_happen() -> str:
    """Every event with its meaning, as the schema tells it."""
    return f"What has to happen. {'; '.join(f'{event}: {meaning}' for event, meaning in EVENTS.items())}."
