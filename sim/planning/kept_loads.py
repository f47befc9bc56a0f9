"""What blocks have given, kept on disk: a file a game, named by a digest of all that its numbers hang on.

A file that cannot be read, or is not as it was written, is as good as none: its sessions are played again.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

import numpy as np

from sim.assumptions import Assumptions
from sim.experiments.digests import digest_of
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.game.model import Game
from sim.measures.thresholds import limits_of

MEASURES = (
    "time_s",
    "in_play_s",
    "session_time_defending_s",
    "session_distance_m",
    "session_high_speed_distance_m",
    "session_sprint_distance_m",
    "accelerations",
    "decelerations",
    "session_load_estimate",
)
"""Of a place in one session, in this order, by the names of `sim.measures`: seconds on the pitch, seconds of it with the ball
rolling, seconds defended, metres, fast metres, metres of sprints, how often he speeds up and slows down hard, and effort times
minutes (an estimate for the players of a post together; nan where minors play)."""
LAYOUT = 1
"""Of the files; what is read off a session is part of it."""


class SessionLoads(NamedTuple):
    """One session: `loads` [place, measure], balls lost, seconds with the ball rolling, and seconds played."""

    loads: np.ndarray
    lost: float
    in_play_s: float
    played_s: float


Sessions = dict[int, SessionLoads]


class Shelf:
    """Where the files lie (None: nowhere, nothing is kept); `write` puts a file there, whole or not at all."""

    def __init__(self, folder: Path | None = None, write: Callable[[Path, bytes], None] | None = None):
        self.folder, self.write = folder, write

    def kind_of(self, game: Game, seed: int, assumptions: Assumptions) -> str:
        """The digest under which sessions of this game are kept."""
        made = made_of(game, seed, provenance_of(limits_of(game), assumptions))
        return digest_of([made, LAYOUT, MEASURES])

    def file(self, kind: str) -> Path | None:
        """Where the sessions of a kind lie."""
        return None if self.folder is None else self.folder / f"{kind}.npz"

    def read(self, kind: str, places: int) -> Sessions:
        """The sessions of a kind by number, of so many places; none where there is no sound file."""
        file = self.file(kind)
        if file is None or not file.is_file():
            return {}
        try:
            with np.load(io.BytesIO(file.read_bytes()), allow_pickle=False) as found:
                arrays = {name: found[name] for name in ("number", *SessionLoads._fields)}
                check = str(found["check"])
        except Exception:  # whatever has become of it, it is no file of ours any more
            return {}
        count = len(arrays["number"])
        sound = arrays["loads"].shape == (count, places, len(MEASURES)) and check == digest_of(kind, arrays)
        if not sound:
            return {}
        parts = zip(*(arrays[name] for name in SessionLoads._fields), strict=True)
        return {int(n): SessionLoads(*one) for n, one in zip(arrays["number"], parts, strict=True)}

    def put(self, kind: str, sessions: Mapping[int, SessionLoads]) -> None:
        """Write the sessions of a kind, at once: a session takes some hundred times as long to play, and a process that is killed
        loses none that it has finished."""
        file = self.file(kind)
        if file is not None and self.write is not None:
            self.write(file, packed(kind, sessions))


def packed(kind: str, sessions: Mapping[int, SessionLoads]) -> bytes:
    """The file, its checksum in it."""
    numbers = sorted(sessions)
    parts = zip(*(sessions[n] for n in numbers), strict=True)
    arrays = {"number": np.array(numbers)}
    arrays |= {name: np.array(part) for name, part in zip(SessionLoads._fields, parts, strict=True)}
    place = io.BytesIO()
    arrays["check"] = np.array(digest_of(kind, arrays))
    np.savez_compressed(place, **arrays)  # type: ignore[arg-type]  # no array of ours is called allow_pickle
    return place.getvalue()
