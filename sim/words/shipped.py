"""The shipped games side by side: numbers, sizes and what each is for; and how each holds so many players."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from sim.game.family import sides_at_start
from sim.game.model import Game
from sim.groups.fitting import Fit, How
from sim.groups.purposes import PURPOSES, Purpose, purpose_of
from sim.words.listing import number, number_word, some
from sim.words.set_ups import plan_in_words
from sim.words.tables import table

INDENT = "  "

HEADS: Mapping[Purpose, str] = {
    "keep": "Keep it, more against fewer",
    "even": "Keep it, as many against as many",
    "together": "Answer for each other: pairs and colours",
    "win": "Win it, and win it back",
    "pass": "Find the right pass",
    "across": "From one area to another",
    "goal": "To goal",
}
HOLDING: Mapping[How, str] = {
    "as it is": "As they are",
    "side by side": "Side by side",
    "waiting": "With somebody waiting",
    "set up anew": "Set up anew",
    "not at all": "Not with so many",
}


def numbers_of(game: Game) -> str:
    """``4 v 2``, the side that starts first; ``4 v 4 + 2`` with two floaters; keepers and those who wait are not counted."""
    sides = sides_at_start(game)
    ordered = [sides.pop(game.start_side), *sides.values()]
    floaters = sum(game.role(player.role).side == "holder" for player in game.players)
    return f"{' v '.join(str(count) for count in ordered)}{f' + {floaters}' if floaters else ''}"


def sizes_of(game: Game) -> str:
    """``11 x 11 m``, ``two 14 x 14 m``, ``56 x 36, 20 x 20 m``."""
    counted = Counter(f"{number(area.length)} x {number(area.width)}" for area in game.areas)
    return f"{', '.join(size if count == 1 else f'{number_word(count)} {size}' for size, count in counted.items())} m"


def games_in_words(games: Sequence[Game], width: int | None) -> str:
    """A game a line under what it is for; folded where `width` columns are too few for it."""
    rows = [(purpose_of(game), (game.name, numbers_of(game), sizes_of(game), game.purpose)) for game in games]
    return _under_heads([(HEADS[one], [row for of, row in rows if of == one]) for one in PURPOSES], width)


def _under_heads(parts: Sequence[tuple[str, Sequence[tuple[str, ...]]]], width: int | None) -> str:
    """Every part that has rows: its head, and its table two columns further in."""
    told = []
    for head, rows in parts:
        if rows:
            laid = table((), rows, width and max(1, width - len(INDENT)), left=range(len(rows[0])))
            told.append("\n".join([f"{head}:", *(f"{INDENT}{line}" for line in laid.splitlines())]))
    return "\n".join(told)


def fits_in_words(found: Sequence[Fit], players: int, width: int | None) -> str:
    """How each game holds so many, the plainest way first, and what to ask next."""
    rows = [(fit.how, (fit.game.name, numbers_of(fit.game), held(fit))) for fit in found]
    head = f"{some(players, 'player').capitalize()}, keepers not counted."
    listed = _under_heads([(said, [row for how, row in rows if how == one]) for one, said in HOLDING.items()], width)
    anew = next((fit.game for fit in found if fit.how == "set up anew"), None)
    if anew is None:
        return f"{head}\n{listed}"
    keepers = sum(anew.role(player.role).style == "goal" for player in anew.players)
    also = f" --keepers {keepers}" if keepers else ""
    step = f"To have one set up for them and played:\n  overload regroup {anew.name} --players {players}{also}"
    return f"{head}\n{listed}\n{step}"


def held(fit: Fit) -> str:
    """What becomes of the game: its own size, how many groups of it, or the nearest set-up."""
    if fit.why:
        return fit.why
    if fit.plan is not None:
        return plan_in_words(fit.plan)
    groups = sizes_of(fit.game) if fit.groups == 1 else f"{number_word(fit.groups)} groups, {sizes_of(fit.game)} each"
    return f"{groups}, {number_word(fit.waiting)} waiting" if fit.waiting else groups


def by_its_numbers(typed: str, name: str, title: str) -> str:
    """Which shipped game it is."""
    return f"{typed} is {name}: {title}."
