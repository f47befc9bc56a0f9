"""Which game a drill was: as the layout says, or a shipped game that is called so."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sim.device_files.layouts import Layout
from sim.device_files.tables import Table, plain
from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games


def games_of(table: Table, layout: Layout, source: str) -> Mapping[str, Game]:
    """The games of the drills in a file, by what these are called there; one that cannot be loaded is refused."""
    names = [plain(one) for one in table.head]
    column = layout.columns.get("block")
    place = None if column is None else names.index(plain(column))
    blocks = dict.fromkeys(plain(cells[place]) for _, cells in table.rows if place is not None and place < len(cells))
    shipped = shipped_games()
    typed = {one: name for one in blocks if (name := layout.blocks.get(one, one if one in shipped else ""))}
    loaded: dict[str, Game] = {}
    problems: list[str] = []
    for block, name in typed.items():
        if name not in loaded:
            try:
                loaded[name] = load_game(name)
            except InputError as error:
                problems += of_layout(layout.name, block, error.problems)
    if problems:
        raise InputError(problems, source)
    return {block: loaded[name] for block, name in typed.items()}


def of_layout(name: str, block: str, problems: Sequence[str]) -> list[str]:
    """What is wrong with a game, as what is wrong with the line of the layout that names it."""
    return [f"[{name}.blocks], {block!r}: {one}" for one in problems]
