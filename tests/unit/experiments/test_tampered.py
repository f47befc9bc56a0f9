"""A saved file, a drawer, a table of a sweep and a checkpoint are not believed because they can be read."""

from __future__ import annotations

import io
import json
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from sim.assumptions import NONE
from sim.errors import InputError
from sim.experiments import drawer as drawers
from sim.experiments.checkpoints import Checkpoint, check_of, parts_of, read, unpacked, written
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import replicate
from sim.experiments.sessions import Batch, bout_counts, play_sessions
from sim.measures.event_reducer import COLOUR_POINTS
from sim.measures.session_counts import CELLS, COLUMN, PERSONS, counts_of_bout, session_of
from sim.measures.thresholds import limits_of
from tests.unit.experiments.staged import staged
from tests.unit.measures.handmade import Bout, square_game

GAME = square_game(count=3)
Tamper = Callable[[dict, dict[str, np.ndarray]], None]


@cache
def good() -> bytes:
    played = replicate(GAME, 12, 5, 1, session=staged)
    made = made_of(GAME, 5, provenance_of(limits_of(GAME)))
    return written(Checkpoint(made, 12, {one.replicate: one for one in played.sessions}))


def packed(about: dict, numbers: dict[str, np.ndarray]) -> bytes:
    place = io.BytesIO()
    np.savez_compressed(place, about=np.array(json.dumps(about)), **numbers)
    return place.getvalue()


def signed(tamper: Tamper) -> bytes:
    """The good file with something changed on purpose, and the checksum reckoned anew."""
    about, numbers = parts_of(good())
    numbers = {name: one.copy() for name, one in numbers.items()}
    tamper(about, numbers)
    about["check"] = check_of(about, numbers)
    return packed(about, numbers)


def cell(name: str, value: float) -> Tamper:
    def tamper(_about, numbers):
        numbers["cells"][1, 2, 0, COLUMN[name]] = value

    return tamper


def person(name: str, value: float) -> Tamper:
    def tamper(_about, numbers):
        numbers["persons"][1, 2, PERSONS.index(name)] = value

    return tamper


def number(name: str, value: float) -> Tamper:
    def tamper(_about, numbers):
        numbers[name][1] = value

    return tamper


def array(name: str, make: Callable[[np.ndarray], np.ndarray]) -> Tamper:
    def tamper(_about, numbers):
        numbers[name] = make(numbers[name])

    return tamper


def said(key: str, value: object) -> Tamper:
    def tamper(about, _numbers):
        about[key] = value

    return tamper


def counted(name: str, entry: list) -> Tamper:
    def tamper(about, _numbers):
        about["counters"][1][name].append(entry)

    return tamper


def of_game(change: Callable[[dict], None]) -> Tamper:
    def tamper(about, _numbers):
        change(about["made"]["game"])

    return tamper


SIGNED: dict[str, tuple[Tamper, str]] = {
    "a negative count": (cell("touches", -60.0), "cells must be numbers from 0 up"),
    "no number": (cell("distance_m", np.nan), "cells must be numbers from 0 up"),
    "no end": (cell("distance_m", np.inf), "cells must be numbers from 0 up"),
    "too far": (cell("distance_m", 1e6), "ran faster than anybody can"),
    "too long on the ball side": (cell("in_play_s", 1e4), "played for longer than the bouts lasted"),
    "too long in defence": (cell("defending_s", 181.0), "played for longer than the bouts lasted"),
    "too long at all": (cell("time_s", 181.0), "played for longer than the bouts lasted"),
    "too fast": (person("peak_kmh", 999.0), "ran faster than anybody can"),
    "more left than all": (person("lowest", 3.5), "had more left than all"),
    "a person with other bouts": (person("bouts", 7.0), "another number of bouts"),
    "a person with no number": (person("able", np.nan), "persons must be numbers from 0 up"),
    "a heart below nothing": (array("heart_pct", lambda one: -one - 1), "heart_pct must be numbers from 0 up"),
    "no time": (number("duration_s", 0.0), "or have no length"),
    "time backwards": (number("duration_s", -180.0), "duration_s must be numbers from 0 up"),
    "time without end": (number("duration_s", np.inf), "duration_s must be numbers from 0 up"),
    "bouts too long": (number("duration_s", 1e5), "longer than those of its game"),
    "in play longer than played": (number("in_play_s", 500.0), "in play for longer than the bouts lasted"),
    "a session twice": (number("replicate", 0), "numbered from 0, each once"),
    "a session below nothing": (number("replicate", -1), "replicate must be numbers from 0 up"),
    "a session beyond all": (number("replicate", 2**62), "numbered from 0, each once"),
    "other bouts": (array("bouts", lambda one: one + 1), "another number of bouts"),
    "no bouts": (array("bouts", lambda one: one * 0), "another number of bouts"),
    "a session too few in one part": (array("cells", lambda one: one[:-1]), "cells has another shape"),
    "a player too few": (array("cells", lambda one: one[:, :-1]), "cells has another shape"),
    "a column too few": (array("persons", lambda one: one[:, :, :-1]), "persons has another shape"),
    "numbers of half the length": (array("cells", lambda one: one.astype(np.float32)), "cells has another shape"),
    "words for numbers": (array("in_play_s", lambda one: one.astype(str)), "in_play_s has another shape"),
    "whole numbers for others": (array("duration_s", lambda one: one.astype(int)), "duration_s has another shape"),
    "asked for less than nothing": (said("asked", -5), "for how many bouts it was asked"),
    "asked for words": (said("asked", "many"), "for how many bouts it was asked"),
    "asked for too many": (said("asked", 10**30), "for how many bouts it was asked"),
    "asked for yes": (said("asked", True), "for how many bouts it was asked"),
    "other players": (said("players", [f"x{i}" for i in range(6)]), "its players are not those of its game"),
    "a player too many": (said("players", [f"p{i}" for i in range(1, 8)]), ""),
    "other roles": (said("roles", ["inside", "goalkeeper"]), "its roles are not those of its game"),
    "no counters": (said("counters", []), "it holds no session"),
    "counters of another kind": (said("counters", [{}] * 4), "it counts other things"),
    "fewer than none lost": (counted("totals", ["turnovers: nobody", -9]), "totals must be counts"),
    "half a turnover": (counted("totals", ["turnovers: half", 0.5]), "totals must be counts"),
    "counted in words": (counted("totals", ["goals", "many"]), "totals counts something else"),
    "counted twice": (counted("totals", ["turnovers", 3]), "totals counts something twice"),
    "more than can be counted": (counted("totals", ["goals", 10**12]), "totals must be counts"),
    "passes below nothing": (counted("runs", ["inside", -3, False, 1]), "runs counts something else"),
    "a run cut perhaps": (counted("runs", ["inside", 3, "perhaps", 1]), "runs counts something else"),
    "a key too long": (counted("by_side", ["points", "inside", "more", 1]), "by_side counts something else"),
    "a game without players": (of_game(lambda game: game.pop("players")), "KeyError"),
    "a game of other bouts": (of_game(lambda game: game["bouts"].update(count=4)), "another number of bouts"),
    "a game of shorter bouts": (of_game(lambda game: game["bouts"].update(seconds=1.0)), "longer than those of its game"),
}  # fmt: skip


@pytest.mark.parametrize("name", SIGNED)
def test_what_cannot_have_been_played_is_refused_though_the_checksum_is_right(name: str):
    tamper, reason = SIGNED[name]
    with pytest.raises(InputError) as refused:
        unpacked(signed(tamper), "kept.npz", "--extend")
    (line,) = str(refused.value).splitlines()
    assert line.startswith("--extend: must be a file that --save wrote (got 'kept.npz': ") and reason in line


def with_parts(change: Callable[[dict[str, bytes]], None]) -> bytes:
    """The good file, taken apart and put together by hand."""
    with zipfile.ZipFile(io.BytesIO(good())) as file:
        parts = {name: file.read(name) for name in file.namelist()}
    change(parts)
    place = io.BytesIO()
    with zipfile.ZipFile(place, "w") as file:
        for name, data in parts.items():
            file.writestr(name, data)
    return place.getvalue()


def huge(parts: dict[str, bytes]) -> None:
    """An array that says it is larger than any memory."""
    place = io.BytesIO()
    np.lib.format.write_array_header_1_0(place, {"descr": "<f8", "fortran_order": False, "shape": (2**50,)})
    parts["cells.npy"] = place.getvalue()


def pickled(parts: dict[str, bytes]) -> None:
    place = io.BytesIO()
    np.save(place, np.array([print], dtype=object), allow_pickle=True)
    parts["cells.npy"] = place.getvalue()


def sound(data: bytes) -> bool:
    """Whether a zip holds what it says it holds."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            return file.testzip() is None
    except (zipfile.BadZipFile, zlib.error):
        return False


def one_bit(data: bytes) -> bytes:
    """The first bit from the middle on whose change changes anything: deflate can say some things in two ways."""
    places = range(len(data) // 2, len(data))
    changed = (data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :] for place in places)
    return next(one for one in changed if not sound(one))


def unsigned(tamper: Tamper) -> Callable[[], bytes]:
    def make() -> bytes:
        about, numbers = parts_of(good())
        numbers = {name: one.copy() for name, one in numbers.items()}
        tamper(about, numbers)
        return packed(about, numbers)

    return make


BROKEN: dict[str, Callable[[], bytes]] = {
    "empty": lambda: b"",
    "text": lambda: b"sessions: 4",
    "half": lambda: good()[: len(good()) // 2],
    "without its end": lambda: good()[:-1],
    "one bit": lambda: one_bit(good()),
    "an array missing": lambda: with_parts(lambda parts: parts.pop("cells.npy")),
    "an array too many": lambda: with_parts(lambda parts: parts.update({"more.npy": b""})),
    "an array larger than memory": lambda: with_parts(huge),
    "an array that would run code": lambda: with_parts(pickled),
    "an array cut short": lambda: with_parts(lambda parts: parts.update({"cells.npy": parts["cells.npy"][:-8]})),
    "no array": lambda: with_parts(lambda parts: parts.update({"cells.npy": b"cells"})),
    "nested deep": lambda: with_parts(
        lambda parts: parts.update({"about.npy": array_bytes(np.array("[" * 100_000))})
    ),
    "a word for everything": lambda: with_parts(lambda parts: parts.update({"about.npy": array_bytes(np.array("null"))})),
    "a list for everything": lambda: with_parts(lambda parts: parts.update({"about.npy": array_bytes(np.array("[]"))})),
    "a number changed": unsigned(cell("touches", 3.0)),
    "a name changed": unsigned(of_game(lambda game: game.update(title="another"))),
    "no checksum": unsigned(lambda about, _numbers: about.pop("check")),
    "the order of sessions changed": unsigned(array("cells", lambda one: one[::-1])),
}  # fmt: skip


def array_bytes(one: np.ndarray) -> bytes:
    place = io.BytesIO()
    np.save(place, one)
    return place.getvalue()


@pytest.mark.parametrize("name", BROKEN)
def test_what_is_broken_or_changed_is_refused_in_one_line(name: str, tmp_path: Path):
    place = tmp_path / "kept.npz"
    place.write_bytes(BROKEN[name]())
    with pytest.raises(InputError) as refused:
        read(place, "--extend")
    assert len(refused.value.problems) == 1 and str(refused.value).startswith(
        "--extend: must be a file that --save wrote (got "
    )


def test_the_good_file_is_believed_and_these_are_many():
    found = unpacked(good(), "kept.npz", "--extend")
    assert (found.asked, sorted(found.sessions)) == (12, [0, 1, 2, 3])
    assert len(SIGNED) + len(BROKEN) >= 60 and set(CELLS) >= {"touches", "distance_m"}


@pytest.mark.parametrize("score", [-1.0, 0.5])
def test_points_may_be_taken_away_or_be_fractions_and_are_kept(score: float):
    bout = Bout(GAME)
    bout(1, "score", side="inside", value=score)
    one = session_of([counts_of_bout(GAME, bout.log()) for _ in range(3)])
    assert set(one.by_side.values()) == {3 * score} and {what for what, _ in one.by_side} == {"points", COLOUR_POINTS}
    made = made_of(GAME, 5, provenance_of(limits_of(GAME)))
    again = unpacked(written(Checkpoint(made, 3, {0: one})), "kept.npz", "--extend")
    assert again.sessions[0].by_side == one.by_side


# a drawer


@cache
def good_drawer() -> bytes:
    taken: list[bytes] = []
    one = drawers.Drawer(taken.append)
    kind = one.kind_of(GAME, 5, NONE)
    one.add(kind, dict(enumerate(play_sessions(Batch(GAME, range(3), bout_counts, staged), 5))))
    one.close()
    return taken[-1]


def of_drawer(change: Callable[[dict[str, bytes]], None]) -> bytes:
    with zipfile.ZipFile(io.BytesIO(good_drawer())) as file:
        parts = {name: file.read(name) for name in file.namelist()}
    change(parts)
    place = io.BytesIO()
    with zipfile.ZipFile(place, "w") as file:
        for name, data in parts.items():
            file.writestr(name, data)
    return place.getvalue()


DRAWERS: dict[str, Callable[[], bytes]] = {
    "empty": lambda: b"",
    "half": lambda: good_drawer()[: len(good_drawer()) // 2],
    "a bout missing": lambda: of_drawer(lambda parts: parts.pop("0.1.npz")),
    "a bout twice": lambda: of_drawer(lambda parts: parts.update({"0.3.npz": parts["0.2.npz"]})),
    "a kind twice": lambda: of_drawer(lambda parts: parts.update({f"1.{i}.npz": parts[f"0.{i}.npz"] for i in range(3)})),
    "another part": lambda: of_drawer(lambda parts: parts.update({"readme.txt": b"hello"})),
    "a bit": lambda: of_drawer(lambda parts: parts.update({"0.1.npz": one_bit(parts["0.1.npz"])})),
    "whole sessions for bouts": lambda: of_drawer(lambda parts: parts.update({f"0.{i}.npz": good() for i in range(3)})),
    "an estimate": good,
}  # fmt: skip


@pytest.mark.parametrize("name", DRAWERS)
def test_a_drawer_is_not_believed_either(name: str, tmp_path: Path):
    place = tmp_path / "kept"
    place.write_bytes(DRAWERS[name]())
    with pytest.raises(InputError) as refused:
        drawers.opened(place, lambda data: None, "--save")
    assert len(refused.value.problems) == 1 and str(refused.value).startswith("--save: must be a file that --save")


def test_the_good_drawer_is_believed_and_one_of_another_program_is_not(tmp_path: Path):
    place = tmp_path / "kept"
    place.write_bytes(good_drawer())
    found = drawers.opened(place, lambda data: None, "--save")
    drawers.require_this_program(found, GAME, "--save")
    assert sorted(found.sessions(found.kind_of(GAME, 5, NONE))) == [0, 1, 2]
    assert found.sessions(found.kind_of(GAME, 6, NONE)) == {}, "of another seed there is nothing in it"
    made, sessions = next(iter(found.held.values()))
    found.held = {"x": (made | {"engine": "another"}, sessions)}
    with pytest.raises(InputError, match="--save: must be of the same version of the program, down to its sources"):
        drawers.require_this_program(found, GAME, "--save")


def test_a_drawer_writes_now_and_then_and_at_the_end():
    taken: list[bytes] = []
    one = drawers.Drawer(taken.append)
    one.close()
    assert taken == [], "nothing to keep"
    kind = one.kind_of(GAME, 5, NONE)
    sessions = dict(enumerate(play_sessions(Batch(GAME, range(3), bout_counts, staged), 5)))
    one.add(kind, {0: sessions[0]})
    assert taken == [], "a moment ago"
    one.now_and_then.next = 0.0
    one.add(kind, {1: sessions[1]})
    assert len(taken) == 1
    one.close()
    one.close()
    assert len(taken) == 1, "nothing new since"


def test_a_saved_session_is_still_what_it_was():
    again = unpacked(written(replace(unpacked(good(), "x", "y"), asked=99)), "x", "y")
    assert again.asked == 99 and (again.sessions[2].cells == unpacked(good(), "x", "y").sessions[2].cells).all()
