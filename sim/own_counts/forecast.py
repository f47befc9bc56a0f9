"""What is forecast for one evening of a game, in the counts that a person with a pencil makes: bout by bout of many sessions.

Each session is played as everywhere (`sim.experiments`): the same players through all its bouts.  What is kept of it is how long
each bout was, on both clocks, and its counts; a forecast is therefore small, can be kept for years, and can still be held against
a count of any length.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from sim.experiments.digests import digest_of
from sim.experiments.drawer import Session, play_missing
from sim.experiments.made_of import Made, made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Replication, sessions_for
from sim.game.model import Game
from sim.measures.event_reducer import SHOT
from sim.measures.session_counts import COLUMN, SessionCounts
from sim.measures.thresholds import limits_of
from sim.own_counts.columns import COUNTS
from sim.own_counts.load_forecast import LoadForecast, loads_of
from sim.own_counts.tally import LONGEST

ROLLS_AT_LEAST = 0.5
"""With the ball rolling for this share of a bout or more, a forecast is long enough for a count on that clock (house default)."""


@dataclass(frozen=True, eq=False)
class Forecast:
    """Counts of sessions.  `seconds` by clock and `counts` by name, each [session, bout]; `bout_s`: a bout as it is planned.

    `loads` of single players (None: kept by an earlier version).
    `key` signs everything it hangs on (`made`: game, seed, program, constants; and how many sessions), `setup` the game alone.
    """

    key: str
    setup: str
    made: Made
    bout_s: float
    seconds: Mapping[str, np.ndarray]
    counts: Mapping[str, np.ndarray]
    loads: LoadForecast | None = None

    @property
    def sessions(self) -> int:
        """How many sessions it is from."""
        return len(self.seconds["watch"])

    @property
    def bouts(self) -> int:
        """How many bouts these have."""
        return int(self.seconds["watch"].size)

    @property
    def engine(self) -> str:
        """The digest of the sources that made it."""
        return str(self.made["engine"])

    def to_json(self) -> str:
        """Everything, as strict JSON."""
        plain = {
            "key": self.key,
            "setup": self.setup,
            "made": self.made,
            "bout_s": self.bout_s,
            "seconds": {name: one.tolist() for name, one in self.seconds.items()},
            "counts": {name: one.tolist() for name, one in self.counts.items()},
            "loads": None if self.loads is None else self.loads.to_plain(),
        }
        return json.dumps(plain, allow_nan=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> Forecast:
        """The forecast that a text was made from."""
        plain: dict[str, Any] = json.loads(text)
        seconds = {name: np.array(one, dtype=float) for name, one in plain["seconds"].items()}
        counts = {name: np.array(one, dtype=int) for name, one in plain["counts"].items()}
        loads = LoadForecast.from_plain(plain["loads"]) if plain.get("loads") else None
        return cls(plain["key"], plain["setup"], plain["made"], plain["bout_s"], seconds, counts, loads)


def setup_of(game: Game) -> str:
    """The digest of a game as it is laid out, whatever the number of its bouts, and whether all of them are played."""
    plain = game.model_dump(mode="json")
    plain["bouts"] |= {"count": None, "best_of": False}
    return digest_of(plain)


def bouts_needed(game: Game, minutes: float, clock: str) -> int:
    """Bouts a session must have for so many minutes to be counted in it; at least those of the game."""
    share = 1.0 if clock == "watch" else ROLLS_AT_LEAST
    needed = minutes * 60 / (game.bouts.seconds * share)
    return max(game.bouts.count, int(-(-(needed - 1e-9) // 1)))


def lengthened(game: Game, bouts: int) -> Game:
    """The game with at least so many bouts in a session, all of them played.

    Without `best_of`: a series that is over once it is decided tells nothing of the bouts that were not needed, and an evening on
    which they were is held against them all the same.
    """
    length = {"count": max(bouts, game.bouts.count), "best_of": False}
    return game.model_copy(update={"bouts": game.bouts.model_copy(update=length)})


def from_bout(found: Forecast, bout: int) -> Forecast:
    """The forecast of what is counted from this bout on (1: the whole); without a bout where there are fewer."""
    seconds = {name: one[:, bout - 1 :] for name, one in found.seconds.items()}
    return replace(found, seconds=seconds, counts={name: one[:, bout - 1 :] for name, one in found.counts.items()})


def key_of(game: Game, bouts: int, run: Replication) -> tuple[str, Made]:
    """(what a forecast of this game from so many bouts is kept under, what its sessions are made of)."""
    made = made_of(game, run.seed, provenance_of(limits_of(game), run.assumptions))
    return digest_of([made, sessions_for(game, bouts)]), made


def forecast_of(game: Game, bouts: int, run: Replication) -> Forecast:
    """Play whole sessions until at least so many bouts are done; an interruption leaves those that are finished."""
    count = sessions_for(game, bouts)
    (found,) = play_missing(run, [game], [range(count)])
    key, made = key_of(game, bouts, run)
    if len(found) < count:
        key = digest_of([made, len(found)])
    return of_sessions(game, [found[number] for number in sorted(found)], key, made)


def of_sessions(game: Game, sessions: Sequence[Session], key: str, made: Made) -> Forecast:
    """The forecast that these sessions make."""
    seconds = {
        "watch": np.array([[bout.duration_s for bout in one] for one in sessions]),
        "rolling": np.array([[bout.in_play_s for bout in one] for one in sessions]),
    }
    read = [[counts_of_bout(bout) for bout in one] for one in sessions]
    counts = {name: np.array([[bout[name] for bout in one] for one in read], dtype=int) for name in COUNTS}
    return Forecast(key, setup_of(game), made, game.bouts.seconds, seconds, counts, loads_of(game, sessions))


def counts_of_bout(bout: SessionCounts) -> dict[str, int]:
    """What an assistant would have counted in a bout."""

    def of_all(column: str) -> int:
        return int(bout.cells[:, :, COLUMN[column]].sum())

    return {
        "losses": bout.totals["turnovers"] - bout.totals[f"turnovers: {SHOT}"],
        "wins": of_all("wins"),
        "outs": bout.totals["outs"],
        "passes": of_all("passes"),
        LONGEST: max((passes for (_, passes, _), n in bout.runs.items() if n), default=0),
        "reached": bout.totals["thresholds"],
        "goals": of_all("goals"),
    }
