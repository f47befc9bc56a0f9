"""Saved sessions: the tallies of an estimate in one file, so that more can be played tomorrow and the whole be the same.

The file is a zip of plain numpy arrays (``.npz``, read without pickle).  `about` is JSON text: what the sessions were made of
(game, seed, program, engine, libraries, constants) and, session by session, what is counted by name.  All other numbers
are arrays whose first axis is the session, with every bit of the tallies.  Sessions of anything else are refused.
"""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections import Counter
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from sim import __version__
from sim.errors import GameError
from sim.game.model import Game
from sim.measures.tally import Tally
from sim.measures.thresholds import Thresholds, limits_of
from sim.results import Provenance

FORMAT = 1
ENGINE = (
    "compiled.py", "streams.py", "motion.py", "ball.py", "energy.py", "geometry.py", "parameters.py", "populations.py",
    "players.py", "assumptions.py", "bands.py", "pitch/*.py", "rules/*.py", "measures/*.py", "game/model.py",
)  # fmt: skip
LIBRARIES = ("numba", "numpy", "simpy")
NUMBERS = {"replicate": int, "bouts": int, "duration_s": float, "in_play_s": float}
NAMES = ("players", "teams", "roles")
WORDS = {
    "format": "be of the same layout",
    "version": "be of the same version of the program",
    "engine": "be of the same version of the program, down to its sources",
    "libraries": "be of the same versions of the libraries",
    "seed": "have the same --seed",
    "game": "be of the same game, with the same changes and players",
    "parameters": "have the same assumptions",
    "thresholds": "have the same speed bands",
}
Made = dict[str, Any]


@dataclass(frozen=True)
class Saved:
    """Sessions by number.  `asked`: the bouts they were asked for; `made`: what they were made of."""

    made: Made
    asked: int
    sessions: Mapping[int, Tally]

    @property
    def bouts(self) -> int:
        return sum(one.bouts for one in self.sessions.values())


def made_of(game: Game, seed: int, provenance: Provenance) -> Made:
    """All that a session's numbers hang on besides its number, as JSON would give it back."""
    made = {
        "format": FORMAT,
        "version": __version__,
        "engine": engine_digest(),
        "libraries": {name: provenance.libraries[name] for name in LIBRARIES},
        "seed": seed,
        "game": game.model_dump(mode="json"),
        "parameters": dict(provenance.parameters) | {one.name: one.value for one in provenance.assumptions},
        "thresholds": asdict(limits_of(game)),
    }
    return json.loads(json.dumps(made))


@cache
def engine_digest() -> str:
    """A short digest of the sources that make a tally."""
    here = Path(__file__).parents[1]
    total = hashlib.sha256()
    for pattern in ENGINE:
        for file in sorted(here.glob(pattern)):
            total.update(file.name.encode() + file.read_bytes())
    return total.hexdigest()[:16]


def require_same(saved: Made, here: Made, source: str) -> None:
    """Refuse to put sessions together that are not of one kind."""
    problems = [
        f"must {words} (got {said(saved.get(part), here[part])})"
        for part, words in WORDS.items()
        if saved.get(part) != here[part]
    ]
    if problems:
        raise GameError(problems, source)


def said(there: object, here: object) -> str:
    """Where two differ, shortly."""
    if isinstance(there, dict) and isinstance(here, dict):
        other = [key for key in sorted({*there, *here}) if there.get(key) != here.get(key)]
        more = ", ..." if len(other) > 3 else ""
        return "another " + ", ".join(other[:3]) + more
    return f"{there} there, {here} here"


def written(saved: Saved) -> bytes:
    """The file."""
    tallies = [saved.sessions[number] for number in sorted(saved.sessions)]
    first = tallies[0]
    about = {
        "made": saved.made,
        "asked": saved.asked,
        **{name: list(getattr(first, name)) for name in NAMES},
        "counters": [
            {field: [[*keys_of(key), n] for key, n in getattr(one, field).items()] for field in counters()}
            for one in tallies
        ],
    }
    numbers = {field: np.array([getattr(one, field) for one in tallies]) for field in (*NUMBERS, *arrays())}
    place = io.BytesIO()
    np.savez_compressed(place, about=np.array(json.dumps(about, ensure_ascii=False, allow_nan=False)), **numbers)
    return place.getvalue()


def read(path: Path, source: str) -> Saved:
    """The sessions of a file that `written` wrote; anything else is refused."""
    if not path.is_file():
        raise GameError(f"must be a file that --save wrote (got {str(path)!r}, which is no file)", source)
    try:
        with np.load(io.BytesIO(path.read_bytes()), allow_pickle=False) as file:
            about = json.loads(str(file["about"][()]))
            numbers = {name: file[name] for name in (*NUMBERS, *arrays())}
        thresholds = Thresholds(**about["made"]["thresholds"])
        sessions = {}
        for i, counted in enumerate(about["counters"]):
            plain = {name: kind(numbers[name][i]) for name, kind in NUMBERS.items()}
            found = {name: Counter({key_of(entry[:-1]): entry[-1] for entry in counted[name]}) for name in counters()}
            whole = {name: numbers[name][i].copy() for name in arrays()}
            names = {name: tuple(about[name]) for name in NAMES}
            one = Tally(**plain, **found, **whole, **names, thresholds=thresholds)
            sessions[one.replicate] = one
        return Saved(about["made"], int(about["asked"]), sessions)
    except (
        ValueError,
        KeyError,
        TypeError,
        IndexError,
        AttributeError,
        EOFError,
        OSError,
        zipfile.BadZipFile,
    ) as error:
        raise GameError(
            f"must be a file that --save wrote (got {str(path)!r}: {type(error).__name__})", source
        ) from None


def of_kind(kind: str) -> list[str]:
    return [field.name for field in fields(Tally) if field.type == kind]


def counters() -> list[str]:
    return of_kind("Counter")


def arrays() -> list[str]:
    return of_kind("np.ndarray")


def keys_of(key: object) -> list:
    return list(key) if isinstance(key, tuple) else [key]


def key_of(parts: list) -> object:
    return parts[0] if len(parts) == 1 else tuple(parts)
