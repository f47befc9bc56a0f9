"""A drawer of sessions: whatever a comparison or a search has played, kept as it is played, so that a run that ends early loses
nothing: the same command given again finds its sessions there and plays the rest.

Sessions lie in it by what they were made of (game, seed, constants), bout by bout, each kind as in `sim.experiments.checkpoints`.
A drawer of another program is refused; sessions of other games in it are left where they are.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from sim.assumptions import Assumptions
from sim.errors import InputError
from sim.experiments.checkpoints import MOST_BYTES, WORDS, Checkpoint, require_same, unpacked, written
from sim.experiments.digests import digest_of
from sim.experiments.keeping import NowAndThen
from sim.experiments.made_of import Made, made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Replication, play_batches
from sim.experiments.sessions import Batch, bout_counts
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts
from sim.measures.thresholds import limits_of

OF_A_GAME = (
    "seed",
    "game",
    "parameters",
    "thresholds",
)  # parts of what sessions are made of that differ within a drawer
Session = tuple[SessionCounts, ...]


class Drawer:
    """Sessions by kind and number; `write` puts the whole drawer where it is kept, now and then and at the end."""

    def __init__(
        self, write: Callable[[bytes], None], held: Mapping[str, tuple[Made, Mapping[int, Session]]] | None = None
    ):
        self.write = write
        self.held = {kind: (made, dict(sessions)) for kind, (made, sessions) in (held or {}).items()}
        self.changed = False
        self.now_and_then = NowAndThen(self.close)

    def kind_of(self, game: Game, seed: int, assumptions: Assumptions) -> str:
        """What sessions of this game are kept under."""
        made = made_of(game, seed, provenance_of(limits_of(game), assumptions))
        kind = digest_of(made)
        self.held.setdefault(kind, (made, {}))
        return kind

    def sessions(self, kind: str) -> dict[int, Session]:
        """The sessions of this kind, by number."""
        return self.held[kind][1]

    def add(self, kind: str, found: Mapping[int, Session]) -> None:
        """Put finished sessions in; the whole is written now and then."""
        self.sessions(kind).update(found)
        self.changed = True
        self.now_and_then()

    def close(self) -> None:
        """Write what has come in since the last time."""
        if self.changed:
            self.write(packed(self))
            self.changed = False


def packed(drawer: Drawer) -> bytes:
    """The file: a zip with one checkpoint for each kind and bout, by number."""
    place = io.BytesIO()
    with zipfile.ZipFile(place, "w", zipfile.ZIP_STORED) as file:
        for i, (made, sessions) in enumerate(one for one in drawer.held.values() if one[1]):
            for bout in range(len(next(iter(sessions.values())))):
                these = Checkpoint(made, 0, {number: session[bout] for number, session in sessions.items()})
                file.writestr(zipfile.ZipInfo(f"{i}.{bout}.npz"), written(these))
    return place.getvalue()


def opened(path: Path, write: Callable[[bytes], None], source: str) -> Drawer:
    """The drawer in a file, or a new one where none is."""
    if not path.exists():
        return Drawer(write)
    data = path.read_bytes()
    refusal = f"must be a file that --save of this command wrote (got {str(path)!r}: "
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            if sum(one.file_size for one in file.infolist()) > MOST_BYTES:
                raise InputError(refusal + "it is too large)", source)
            places = [place_of(name) for name in file.namelist()]
            parts = {place: file.read(name) for place, name in zip(places, file.namelist(), strict=True)}
    except InputError:
        raise
    except Exception as error:  # as in `checkpoints`: whatever it is, it is no file of ours
        raise InputError(f"{refusal}{type(error).__name__})", source) from None
    return Drawer(write, kinds_of(parts, str(path), source, refusal))


def place_of(name: str) -> tuple[int, int]:
    """(kind, bout) of a part."""
    kind, bout, ending = name.split(".")
    if ending != "npz":
        raise ValueError(name)
    return int(kind), int(bout)


def kinds_of(
    parts: Mapping[tuple[int, int], bytes], name: str, source: str, refusal: str
) -> dict[str, tuple[Made, dict[int, Session]]]:
    """Sessions by kind: whole ones, each bout of them there once, all of this program."""
    held: dict[str, tuple[Made, dict[int, Session]]] = {}
    for i in sorted({kind for kind, _ in parts}):
        bouts = [unpacked(parts[place], name, source) for place in sorted(parts) if place[0] == i]
        made, count = bouts[0].made, bouts[0].made["game"]["bouts"]["count"]
        numbers = set(bouts[0].sessions)
        whole = len(bouts) == count and all(one.made == made and set(one.sessions) == numbers for one in bouts)
        if not whole or any(counts.bouts != 1 for one in bouts for counts in one.sessions.values()):
            raise InputError(f"{refusal}bouts of a session are missing)", source)
        if digest_of(made) in held:
            raise InputError(f"{refusal}it holds a game twice)", source)
        held[digest_of(made)] = (
            made,
            {number: tuple(one.sessions[number] for one in bouts) for number in sorted(numbers)},
        )
    return held


def require_this_program(drawer: Drawer, game: Game, source: str) -> None:
    """Refuse a drawer whose sessions another program or other libraries have played."""
    here = made_of(game, 0, provenance_of(limits_of(game)))
    for made, _ in drawer.held.values():
        mine = here | {part: made.get(part) for part in OF_A_GAME}
        require_same({part: made.get(part) for part in WORDS}, mine, source)


def play_missing(
    run: Replication, games: Sequence[Game], numbers: Sequence[Sequence[int]], warm: bool = True
) -> list[dict[int, Session]]:
    """The bouts of the sessions of these `numbers` of each game, by number; what is missing was interrupted.

    Sessions that lie in the drawer of the run, if it has one, are not played again, and those that are played are put there.
    `warm` as for `play_batches`.
    """
    drawer, own = run.drawer, run.assumptions
    kinds = [] if drawer is None else [drawer.kind_of(game, run.seed, own) for game in games]
    there = [{}] * len(games) if drawer is None else [drawer.sessions(kind) for kind in kinds]
    known = [{n: held[n] for n in part if n in held} for held, part in zip(there, numbers, strict=True)]
    missing = [
        Batch(game, [n for n in part if n not in held], bout_counts, run.player, own)
        for game, held, part in zip(games, there, numbers, strict=True)
    ]
    before = sum(len(one) * game.bouts.count for one, game in zip(known, games, strict=True))
    wanted = before + sum(one.bouts for one in missing)

    def told(done: int, _: int) -> None:
        if run.progress is not None:
            run.progress(before + done, wanted)

    def put_away(place: int, finished: Mapping[int, Session]) -> None:
        if drawer is not None:
            drawer.add(kinds[place], finished)

    found: list[dict[int, Session]] = [{} for _ in games]
    if wanted > before:
        try:
            found = play_batches(missing, run.seed, run.workers, told, None if drawer is None else put_away, warm)
        except KeyboardInterrupt:
            if not any(known):
                raise
    return [dict(sorted((old | new).items())) for old, new in zip(known, found, strict=True)]
