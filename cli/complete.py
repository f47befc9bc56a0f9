"""What a shell offers after the Tab key: games, players, what can be changed, what is measured."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from sim.game.model import Game


Typed = Mapping[str, Any]
"""What stands on the line so far, by the names of parameters: in any type that an option can have."""


def games(typed: Typed) -> list[str]:
    """The shipped games."""
    from sim.game.shipped import shipped_games

    return list(shipped_games())


def populations(typed: Typed) -> list[str]:
    """Whoever can play, by all their names."""
    from sim.populations import CALLED, POPULATIONS

    return [*POPULATIONS, *CALLED]


def game_of(typed: Typed) -> Game | None:
    """The game that stands on the line so far, if it can be read."""
    from sim.errors import InputError
    from sim.game.loader import load_game

    try:
        return load_game(typed["game"]) if typed.get("game") else None
    except InputError:
        return None


def keys(typed: Typed) -> list[str]:
    """What can be set in the game that is typed, else in any."""
    from sim.game.everyday import NAMES, names_of

    game = game_of(typed)
    return [f"{name}=" for name in (NAMES if game is None else names_of(game))]


def names_of_measures(typed: Typed) -> list[str]:
    """What can be measured in the game that is typed, else in any."""
    from sim.experiments.everyday import NAMES, called
    from sim.experiments.key_measures import aims_of

    game = game_of(typed)
    return list(NAMES) if game is None else list(dict.fromkeys(called(key, game) for key in aims_of(game)))


def aims(typed: Typed) -> list[str]:
    """What can be aimed at: a measure, and room for its value."""
    return [f"{name}=" for name in names_of_measures(typed)]


OFFERED: dict[str, Callable[[Typed], list[str]]] = {
    "game": games,
    "others": games,
    "--population": populations,
    "--set": keys,
    "--change": keys,
    "--knob": keys,
    "--key": keys,
    "--target": aims,
    "--aim": aims,
    "--worthwhile": aims,
    "--measure": names_of_measures,
}
"""By the name of an argument or an option.  Files are the shell's own business: where a game may be a file, both are offered."""


class Offer(NamedTuple):
    """One thing to go on with, as the command line reads it (the library's own class for it is private)."""

    value: str
    type: str = "plain"
    help: str | None = None


def offer(command: Any) -> None:
    """Make a command's arguments and options offer what could stand there."""
    for param in command.params:
        found = next((OFFERED[name] for name in (param.name, *param.opts) if name in OFFERED), None)
        if found is not None:
            param.shell_complete = completing(found)


def _given(params: Typed) -> dict[str, Any]:
    return {name: value for name, value in params.items() if value is not None}


def completing(found: Callable[[Typed], list[str]]) -> Callable[[Any, str], list[Offer]]:
    """As the command line asks for it: everything that begins like what is there."""

    def shell_complete(ctx: Any, incomplete: str) -> list[Offer]:
        begun = incomplete.casefold()
        # Behind an option that still waits for its value nothing is sorted into arguments: the game is the first of what is left.
        typed = {"game": ctx.args[0]} | _given(ctx.params) if ctx.args else ctx.params
        return [Offer(one) for one in found(typed) if one.casefold().startswith(begun)]

    return shell_complete
