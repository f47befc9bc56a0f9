"""`--save FILE` of commands that play several games: sessions kept as they are played, and found again by the same command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from cli.files import Keeper

if TYPE_CHECKING:
    from sim.experiments.drawer import Drawer
    from sim.game.model import Game


@contextmanager
def drawer(keeper: Keeper, game: Game) -> Iterator[Drawer | None]:
    """The drawer in the file of `keeper` (None: there is no file to be kept), written at the end, however that comes."""
    if keeper.path is None:
        yield None
        return
    from sim.experiments.drawer import opened, require_this_program

    found = opened(keeper.path, keeper, "--save")
    require_this_program(found, game, "--save")
    try:
        yield found
    finally:
        found.close()
