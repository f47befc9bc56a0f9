"""An evening with one block of it changed: other bouts, other rests, another ground; everybody stays where he is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sim.errors import InputError
from sim.game.model import Game
from sim.geometry import ROUNDING_M
from sim.planning.block import block_s
from sim.planning.heat import with_bouts
from sim.planning.layout import laid_out
from sim.planning.line_up import LineUp, resized
from sim.planning.session import Planned, cannot_hold


def with_count(plan: Planned, number: int, count: int) -> Planned:
    """Block `number` in so many bouts."""
    line_up, block = plan.line_ups[number], replace(plan.blocks[number], bouts=count)
    games = tuple(with_bouts(game, block) for game in line_up.games)
    return _with_block(plan, number, replace(line_up, games=games, bouts=line_up.bouts_of(count)), bouts=count)


def with_rest(plan: Planned, number: int, rest_s: float) -> Planned:
    """Block `number` with rests of so many seconds."""
    line_up, block = plan.line_ups[number], replace(plan.blocks[number], rest_s=rest_s)
    games = tuple(with_bouts(game, block) for game in line_up.games)
    return _with_block(plan, number, replace(line_up, games=games), rest_s=rest_s)


def with_metres(plan: Planned, number: int, metres: int) -> Planned:
    """Block `number` on grounds whose first area is so many metres longer, the rest in proportion; `InputError` where they find no
    room or the game refuses it."""
    line_up = plan.line_ups[number]
    games = tuple(resized(game, metres) for game in line_up.games)
    if not all(_is_resized(*both, metres) for both in zip(line_up.games, games, strict=True)):
        raise InputError(f"its ground cannot be {metres:+d} m and stay alike", line_up.part.name)
    grids = list(plan.grids)
    grids[number] = laid_out(line_up.part, games, plan.evening.ground)
    return replace(_with_block(plan, number, replace(line_up, games=games)), grids=tuple(grids))


def holds(plan: Planned) -> bool:
    """Whether the evening has all that it takes, and nobody has more than he may."""
    return not cannot_hold(plan)


def _is_resized(before: Game, after: Game, metres: int) -> bool:
    """Whether the first area is so many metres longer, which some grounds of several areas cannot be."""
    return abs(after.areas[0].length - before.areas[0].length - metres) < ROUNDING_M


def _with_block(plan: Planned, number: int, line_up: LineUp, **changes: float) -> Planned:
    blocks, line_ups = list(plan.blocks), list(plan.line_ups)
    blocks[number], line_ups[number] = replace(blocks[number], **changes), line_up  # type: ignore[arg-type]
    return replace(plan, blocks=tuple(blocks), line_ups=tuple(line_ups), long_s=long_s_of(blocks, line_ups))


def long_s_of(blocks: Sequence, line_ups: Sequence[LineUp]) -> float:
    """How long these blocks take, s."""
    return sum(block_s(block, one.games[0]) for block, one in zip(blocks, line_ups, strict=True))
