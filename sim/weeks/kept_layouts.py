"""How games are laid out for so many, kept on disk: setting thirty games up takes longer than all else a known plan needs.

A file is named by a digest of all that it hangs on: the games, how many come, sizes, ground, and the sources that lay out.  One
that cannot be read, or is not as it was written, is as good as none.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

from sim.experiments.digests import digest_of
from sim.game.model import Game
from sim.provenance import digest
from sim.weeks.table import HALF_A_PITCH, USUAL_SIZES, Laid, laid_out

SOURCES = ("sim.weeks.table", "sim.game.loader", "sim.groups.fitting")
"""Where games are laid out; the digest covers whatever these import."""
ENDING = ".layout.json"


@cache
def sources() -> str:
    """The digest of the sources."""
    return digest(SOURCES)


class Layouts:
    """Lays games out as `sim.weeks.table.laid_out` does, or finds it in `folder` (None: nowhere); what is new is written by `keep`
    alone, so that a plan that is refused leaves nothing behind."""

    def __init__(self, folder: Path | None = None, write: Callable[[Path, bytes], None] | None = None):
        self.folder, self.write = folder, write
        self.new: dict[Path, bytes] = {}

    def __call__(
        self,
        games: Sequence[Game],
        people: int,
        sizes: Sequence[float] = USUAL_SIZES,
        ground: tuple[float, float] = HALF_A_PITCH,
    ) -> list[Laid]:
        """Each game as it can be set up for so many on this ground, in each of the sizes."""
        if self.folder is None:
            return laid_out(games, people, sizes, ground)
        kind = digest_of([sources(), [plain(game) for game in games], people, list(sizes), list(ground)])
        file = self.folder / f"{kind}{ENDING}"
        found = read(file)
        if found is None:
            found = laid_out(games, people, sizes, ground)
            self.new[file] = packed(found)
        return found

    def keep(self) -> None:
        """Write what has been laid out anew."""
        for file, data in self.new.items():
            if self.write is not None:
                self.write(file, data)
        self.new.clear()


def plain(game: Game) -> dict:
    """A game as JSON has it."""
    return game.model_dump(mode="json")


def packed(laid: Sequence[Laid]) -> bytes:
    """The file, its checksum in it; every game once."""
    games = list(dict.fromkeys(game for one in laid for game in one.groups))
    place = {game: i for i, game in enumerate(games)}
    rows = [[one.name, one.size, one.people, [place[game] for game in one.groups]] for one in laid]
    data = [[plain(game) for game in games], rows]
    return json.dumps({"check": digest_of(data), "data": data}).encode()


def read(file: Path) -> list[Laid] | None:
    """What `packed` put there; None where there is no sound file."""
    try:
        found = json.loads(file.read_bytes())
        if found["check"] != digest_of(found["data"]):
            return None
        games = [Game.model_validate_json(json.dumps(one), strict=True) for one in found["data"][0]]
        return [Laid(name, size, tuple(games[i] for i in at), people) for name, size, people, at in found["data"][1]]
    except (OSError, ValueError, KeyError, TypeError, IndexError):  # whatever has become of it, it is no file of ours
        return None
