"""Sessions made by hand for two games: a longer square delays the first loss; importable by other processes."""

from __future__ import annotations

from tests.unit.measures.handmade import square_bout, square_game

GAME = square_game(count=3)
LONG = GAME.model_copy(update={"areas": tuple(area.model_copy(update={"length": 12.0}) for area in GAME.areas)})


def staged_pairs(game, seed, replicate):
    """What seed and session number make of it is shared by both games; the square adds a second and a bit of its own."""
    for number in range(game.bouts.count):
        shared = ((seed + 7 * replicate + 3 * number) % 11) / 3
        longer = game.areas[0].length > 10
        yield square_bout(replicate, number, late=shared + longer * (1 + (replicate % 3) / 5))


def interrupted_in_the_second_arm(game, seed, replicate):
    if game.areas[0].length > 10 and replicate == 4:
        raise KeyboardInterrupt
    return staged_pairs(game, seed, replicate)


def interrupted_in_the_first_arm(game, seed, replicate):
    if game.areas[0].length == 10 and replicate == 4:
        raise KeyboardInterrupt
    return staged_pairs(game, seed, replicate)


def interrupted_at_once_in_the_second_arm(game, seed, replicate):
    if game.areas[0].length > 10:
        raise KeyboardInterrupt
    return staged_pairs(game, seed, replicate)
