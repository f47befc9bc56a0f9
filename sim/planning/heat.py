"""A local policy for heat: a table of the club's or federation's own, and what it makes of the blocks of an evening.

It only ever takes away: fewer bouts, shorter ones, longer rests, in a block and between two.  There is no table of our own: limits
differ from region to region, and somebody must answer for them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sim.errors import InputError
from sim.game.model import Game
from sim.planning.block import Block, block_s
from sim.squads.entries import Entries
from sim.squads.text_file import lines_of, text_of

COLUMNS = ("from_wbgt", "bouts_pct", "most_work_min", "least_rest_min", "least_drinks_min", "train", "approved_by")
LEAST_WBGT, MOST_WBGT = 0.0, 45.0
YES_NO = ("yes", "no")


@dataclass(frozen=True)
class Rule:
    """What holds from a reading (wet-bulb globe temperature, degrees C) on.

    `bouts_share` of the bouts planned are played, rounded down, one at least; a bout lasts `most_work_s` at most, a rest, and the
    change from one block to the next, `least_rest_s` at least, drinks in a block `least_drinks_s`; where `train` is False nobody
    trains.
    """

    from_wbgt: float
    bouts_share: float
    most_work_s: float
    least_rest_s: float
    least_drinks_s: float
    train: bool
    approved_by: str


@dataclass(frozen=True)
class Heat:
    """A reading, and the rule of the table that it falls under (None: below all of them); `source` is the table."""

    wbgt: float
    rule: Rule | None
    source: str


def read_heat(path: Path, wbgt: float) -> Heat:
    """The rule for a reading; refuses a table with anything wrong in it, and a reading at which nobody trains."""
    found = under(read_rules(path), wbgt, str(path))
    if why := too_hot(found):
        raise InputError(why, "--wbgt")
    return found


def read_rules(path: Path) -> tuple[Rule, ...]:
    """The rows of a table, the coolest first; refuses one with anything wrong in it, or one that eases as it gets hotter."""
    source = str(path)
    rows = lines_of(text_of(path, "table"), source)
    head = [cell.strip().lower() for cell in rows[0][1]] if rows else []
    if sorted(head) != sorted(COLUMNS):
        raise InputError(f"must have the columns {', '.join(COLUMNS)} (got {', '.join(head) or 'none'})", source)
    problems = [f"line {i} must have {len(head)} cells (got more)" for i, cells in rows if len(cells) > len(head)]
    rules = [_rule(dict(zip(head, cells, strict=False)), f"line {i}", problems) for i, cells in rows[1:]]
    if not rules:
        problems.append("must have a row at least")
    sound = [rule for rule in rules if rule is not None]
    problems += [] if problems else _eases(sound)
    if problems:
        raise InputError(problems, source)
    return tuple(sound)


def under(rules: Sequence[Rule], wbgt: float, source: str) -> Heat:
    """The rule that a reading falls under, of a table from `source`."""
    own = [rule for rule in rules if rule.from_wbgt <= wbgt]
    return Heat(wbgt, max(own, key=lambda rule: rule.from_wbgt) if own else None, source)


def too_hot(heat: Heat) -> str:
    """That nobody trains at a reading, with who says so; nothing where they do."""
    if heat.rule is None or heat.rule.train:
        return ""
    why = f"nobody trains from {heat.rule.from_wbgt:g} WBGT on, says {heat.rule.approved_by}"
    return f"must be below that: {why} (got {heat.wbgt:g})"


def _rule(row: dict[str, str], where: str, problems: list[str]) -> Rule | None:
    before = len(problems)
    entries = Entries({key: _number(cell) for key, cell in row.items() if cell.strip()}, where, problems)
    first = entries.number("from_wbgt", LEAST_WBGT, MOST_WBGT, needed=True)
    share = entries.number("bouts_pct", 0.0, 100.0)
    work = entries.number("most_work_min", 0.1, 120.0)
    rest, drinks = (entries.number(key, 0.0, 60.0) for key in ("least_rest_min", "least_drinks_min"))
    train = entries.text("train", needed=True, known=YES_NO)
    if share == 0.0 and train == YES_NO[0]:
        entries.complain("bouts_pct", "must be more than 0 where train is yes (got 0): nobody plays is train no")
    approved = entries.name("approved_by", needed=True)
    entries.finish()
    if len(problems) > before or first is None:
        return None
    return Rule(
        first,
        1.0 if share is None else share / 100.0,
        math.inf if work is None else 60.0 * work,
        60.0 * (rest or 0.0),
        60.0 * (drinks or 0.0),
        train == YES_NO[0],
        approved,
    )


def _number(cell: str) -> float | str:
    try:
        return float(cell)
    except ValueError:
        return cell.strip()


def _eases(rules: Sequence[Rule]) -> list[str]:
    """Where a hotter row lets people do more, or two rows begin at one reading."""
    problems = []
    for cooler, hotter in zip(rules, rules[1:], strict=False):
        if hotter.from_wbgt <= cooler.from_wbgt:
            problems.append(
                f"from_wbgt must grow from row to row (got {hotter.from_wbgt:g} after {cooler.from_wbgt:g})"
            )
        elif hotter.train and not cooler.train:
            problems.append(f"train must stay no once it is no (got yes from {hotter.from_wbgt:g})")
        elif hotter.train and (
            hotter.bouts_share > cooler.bouts_share
            or hotter.most_work_s > cooler.most_work_s
            or hotter.least_rest_s < cooler.least_rest_s
            or hotter.least_drinks_s < cooler.least_drinks_s
        ):
            problems.append(
                f"the row from {hotter.from_wbgt:g} must not let people do more than the cooler one before it"
            )
    return problems


def in_force(heat: Heat | None) -> bool:
    """Whether a row of a table holds that takes anything away."""
    return heat is not None and heat.rule is not None


def in_heat(block: Block, game: Game, rule: Rule, last: bool = False) -> Block:
    """The block as the rule has it; `game` is that of the block, and says what the block leaves open.  The change to the next block
    is a rest, too; after the `last` one there is none."""
    return replace(
        block,
        bouts=max(1, math.floor(game.bouts.count * rule.bouts_share + 1e-9)),
        work_s=min(game.bouts.seconds, rule.most_work_s),
        rest_s=max(game.bouts.rest_seconds, rule.least_rest_s),
        drinks_s=max(block.drinks_s, rule.least_drinks_s),
        changeover_s=block.changeover_s if last else max(block.changeover_s, rule.least_rest_s),
    )


def until_it_fits(blocks: Sequence[Block], games: Sequence[Game], room_s: float) -> tuple[Block, ...]:
    """The blocks, a bout less of the one that plays longest as often as it takes, until they fit so many seconds or have one bout
    each; longer rests are never made up for by playing on."""
    found, played = list(blocks), [with_bouts(game, block) for block, game in zip(blocks, games, strict=True)]

    def long_s() -> float:
        return sum(block_s(block, game) for block, game in zip(found, played, strict=True))

    while long_s() > room_s and max(game.bouts.count for game in played) > 1:
        several = [i for i, game in enumerate(played) if game.bouts.count > 1]
        longest = max(several, key=lambda i: played[i].bouts.count * played[i].bouts.seconds)
        found[longest] = replace(found[longest], bouts=played[longest].bouts.count - 1)
        played[longest] = with_bouts(played[longest], found[longest])
    return tuple(found)


def with_bouts(game: Game, block: Block) -> Game:
    """The game with the bouts of a block; what that leaves open as it is."""
    own = (("count", block.bouts), ("seconds", block.work_s), ("rest_seconds", block.rest_s))
    bouts = game.bouts.model_copy(update={key: value for key, value in own if value is not None})
    return game.model_copy(update={"bouts": bouts})
