"""Saved sessions: the counts of an estimate in one file, so that more can be played tomorrow and the whole be the same.

The file is a zip of plain numpy arrays (``.npz``, read without pickle).  `about` is JSON text: what the sessions were made of
(game, seed, program, engine, libraries, constants), session by session what is counted by name, and a checksum over everything.
All other numbers are arrays whose first axis is the session, with every bit of them.  A file is not believed because it
can be read: the checksum must be right, and what it says must be possible in the game it names (`sim.experiments.possible`).
Sessions of anything else are refused.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

import numpy as np

from sim.errors import InputError
from sim.experiments.digests import digest_of
from sim.experiments.made_of import FORMAT, Made
from sim.experiments.possible import impossible
from sim.measures.session_counts import SessionCounts
from sim.measures.thresholds import Thresholds

NUMBERS = {"replicate": int, "bouts": int, "duration_s": float, "in_play_s": float}
NAMES = ("players", "teams", "roles")
MOST_BYTES = 2**31  # of a file, unpacked: ten thousand sessions of twenty-two players come to a quarter of it
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


@dataclass(frozen=True)
class Checkpoint:
    """Sessions by number.  `asked`: the bouts that were asked for and played to the end; `made`: what the sessions were made of."""

    made: Made
    asked: int
    sessions: Mapping[int, SessionCounts]

    @property
    def bouts(self) -> int:
        """Bouts of all its sessions."""
        return sum(one.bouts for one in self.sessions.values())


def require_same(saved: Made, here: Made, source: str) -> None:
    """Refuse to put sessions together that are not of one kind."""
    problems = [
        f"must {words} (got {said(saved.get(part), here[part])})"
        for part, words in WORDS.items()
        if saved.get(part) != here[part]
    ]
    if problems:
        raise InputError(problems, source)


def said(there: object, here: object) -> str:
    """Where two differ, shortly."""
    if isinstance(there, dict) and isinstance(here, dict):
        other = [key for key in sorted({*there, *here}) if there.get(key) != here.get(key)]
        more = ", ..." if len(other) > 3 else ""
        return "another " + ", ".join(other[:3]) + more
    return f"{there} there, {here} here"


class Doubtful(Exception):
    """Why a file is not believed."""


def written(saved: Checkpoint) -> bytes:
    """The file."""
    sessions = [saved.sessions[number] for number in sorted(saved.sessions)]
    first = sessions[0]
    about = {
        "made": saved.made,
        "asked": saved.asked,
        **{name: list(getattr(first, name)) for name in NAMES},
        "counters": [
            {field: [[*keys_of(key), n] for key, n in getattr(one, field).items()] for field in counters()}
            for one in sessions
        ],
    }
    numbers = {field: np.array([getattr(one, field) for one in sessions]) for field in (*NUMBERS, *arrays())}
    about["check"] = check_of(about, numbers)
    place = io.BytesIO()
    text = np.array(json.dumps(about, ensure_ascii=False, allow_nan=False))
    np.savez_compressed(place, about=text, **numbers)  # type: ignore[arg-type]  # no array of ours is called allow_pickle
    return place.getvalue()


def check_of(about: Mapping[str, Any], numbers: Mapping[str, np.ndarray]) -> str:
    """A checksum over all that a file holds."""
    return digest_of({key: value for key, value in about.items() if key != "check"}, numbers)


def read(path: Path, source: str) -> Checkpoint:
    """The sessions of a file that `written` wrote; anything else is refused."""
    if not path.is_file():
        raise InputError(f"must be a file that --save wrote (got {str(path)!r}, which is no file)", source)
    return unpacked(path.read_bytes(), str(path), source)


def unpacked(data: bytes, name: str, source: str) -> Checkpoint:
    """The sessions in what `written` gave; `name` is what a complaint calls it."""
    try:
        return believed(*parts_of(data))
    except Doubtful as doubt:
        why = str(doubt)
    except Exception as error:  # whatever a stranger's file may do to those who take it apart, it is no file of ours
        why = type(error).__name__
    raise InputError(f"must be a file that --save wrote (got {name!r}: {why})", source)


def parts_of(data: bytes) -> tuple[dict, dict[str, np.ndarray]]:
    """(about, numbers) of a file, each array no larger than its bytes."""
    found = {}
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        wanted = {f"{name}.npy" for name in ("about", *NUMBERS, *arrays())}
        if sorted(file.namelist()) != sorted(wanted):
            raise Doubtful("it has other parts")
        if sum(one.file_size for one in file.infolist()) > MOST_BYTES:
            raise Doubtful("it is too large")
        for name in wanted:
            found[name.removesuffix(".npy")] = array_of(file.read(name))
    return json.loads(str(found.pop("about")[()])), found


def array_of(data: bytes) -> np.ndarray:
    """The array in the bytes of an ``.npy``; its head is held against the length before room is made."""
    place = io.BytesIO(data)
    version = np.lib.format.read_magic(place)
    heads = {(1, 0): np.lib.format.read_array_header_1_0, (2, 0): np.lib.format.read_array_header_2_0}
    shape, _, kind = heads[version](place)
    count = 1
    for side in shape:
        count *= side
    if kind.hasobject or count * kind.itemsize != len(data) - place.tell():
        raise Doubtful("an array is not as long as it says")
    return np.lib.format.read_array(io.BytesIO(data), allow_pickle=False)


def believed(about: dict, numbers: dict[str, np.ndarray]) -> Checkpoint:
    """The sessions, if the checksum is right and everything in them is possible."""
    if about["made"]["format"] != FORMAT:
        raise Doubtful(f"its layout is {about['made']['format']}, and {FORMAT} is read here")
    if about.get("check") != check_of(about, numbers):
        raise Doubtful("it has been changed since")
    thresholds = Thresholds(**about["made"]["thresholds"])
    names = {name: tuple(about[name]) for name in NAMES}
    if why := impossible(about, numbers, names):
        raise Doubtful(why)
    sessions = {}
    for i, counted in enumerate(about["counters"]):
        fields_: dict[str, Any] = {name: kind(numbers[name][i]) for name, kind in NUMBERS.items()}  # of several types
        fields_ |= {name: Counter({key_of(entry[:-1]): entry[-1] for entry in counted[name]}) for name in counters()}
        fields_ |= {name: numbers[name][i].copy() for name in arrays()}
        one = SessionCounts(**fields_ | names, thresholds=thresholds)
        sessions[one.replicate] = one
    return Checkpoint(about["made"], about["asked"], sessions)


def of_kind(kind: str) -> list[str]:
    """The fields of `SessionCounts` with this annotation, whatever it holds."""
    return [field.name for field in fields(SessionCounts) if str(field.type).partition("[")[0] == kind]


def counters() -> list[str]:
    """The fields that count things by name."""
    return of_kind("Counter")


def arrays() -> list[str]:
    """The fields that are arrays."""
    return of_kind("np.ndarray")


def keys_of(key: object) -> list:
    """The parts of a key of a counter."""
    return list(key) if isinstance(key, tuple) else [key]


def key_of(parts: list) -> object:
    """The key of a counter from its parts."""
    return parts[0] if len(parts) == 1 else tuple(parts)
