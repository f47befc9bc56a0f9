"""A game file from the coach's numbers: ``5v2``, a size, a touch limit, pairs or not.

More against fewer is a square where whoever loses the ball goes in; as many against as many is keep-ball for points.  What is
written is the short form, ready to be changed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sim.errors import InputError
from sim.game.bounds import MOST_PLAYERS
from sim.game.nearby import Numbers, in_words, numbers_in
from sim.game.schema import FIRST_LINE

ROOM_M2 = {"tight": 20.0, "three inside": 36.0, "even": 60.0}
"""Square metres a player where no size is given: two inside or fewer, more, and even sides; common practice, no source."""
FEW_INSIDE, ON_THE_LINES = 2, 3
"""Up to so many inside it is a tight game; up to so many the others stand on the lines, with more anywhere."""
FEWEST_IN_PAIRS = 2
IN_A_ROW = 8
"""Passes for a point in an even game; common practice, no source."""
PER_BOUT_MIN = {"tight": 2, "three inside": 3, "even": 3}
SHAPE = 1.25
"""Length over width of an even game."""
SHORTEST_M = 2
"""Of a side that is not asked for."""
WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class Wish:
    """What the coach asked for: numbers, sides in metres (None: by the numbers), touch limit (None: free), whether in pairs."""

    numbers: Numbers
    length: float | None = None
    width: float | None = None
    touches: int | None = None
    pairs: bool = False

    @property
    def kind(self) -> str:
        """Which row of the house values it goes by."""
        mine, others, _ = self.numbers
        return "even" if mine == others else "tight" if others <= FEW_INSIDE else "three inside"


def numbers_of(typed: str) -> Numbers:
    """The numbers as typed, or a complaint that says what would do."""
    numbers = numbers_in(typed)
    if numbers is None:
        raise InputError(f"must be like 5v2, 6v3 or 4v4+2 (got {typed!r})", "NUMBERS")
    mine, others, floaters = numbers
    if mine < 1 or others < 1:
        raise InputError(f"must have somebody on both sides, as 5v2 has (got {typed})", "NUMBERS")
    if mine < others:
        raise InputError(
            f"the side with the ball comes first and has as many at least: {others}v{mine} (got {typed})", "NUMBERS"
        )
    if mine + floaters < 2:
        raise InputError(f"must have two who can pass to each other, as 3v1 has (got {typed})", "NUMBERS")
    if sum(numbers) > MOST_PLAYERS:
        raise InputError(f"must be at most {MOST_PLAYERS} players in all (got {sum(numbers)})", "NUMBERS")
    return numbers


def file_of(wish: Wish) -> str:
    """The text of the file."""
    mine, others, _ = wish.numbers
    if wish.pairs and (mine == others or others < FEWEST_IN_PAIRS):
        why = "two inside at least, as 6v3 has" if mine > others else "more against fewer, as 6v3 has"
        raise InputError(f"goes with {why} (got {in_words(wish.numbers)})", "--pairs")
    lines = _even(wish) if mine == others else _overload(wish)
    return "\n".join([FIRST_LINE, *lines]) + "\n"


def _word(count: int) -> str:
    return WORDS[count] if count < len(WORDS) else str(count)


def _title(wish: Wish) -> str:
    mine, others, floaters = wish.numbers
    helped = f" and {_word(floaters)} floater{'s' if floaters > 1 else ''}" if floaters else ""
    paired = ", in pairs" if wish.pairs else ""
    return f"{_word(mine)} against {_word(others)}{helped}{paired}".capitalize()


def _ground(wish: Wish, name: str) -> str:
    """The line of the area, in whole metres where the numbers settle it."""
    room = ROOM_M2[wish.kind] * sum(wish.numbers)
    shape = SHAPE if wish.kind == "even" else 1.0
    if wish.length is not None:
        length, width = wish.length, wish.length if wish.width is None else wish.width
    elif wish.width is not None:
        length, width = max(SHORTEST_M, round(room / wish.width)), wish.width
    else:
        length, width = round((room * shape) ** 0.5), round((room / shape) ** 0.5)
    if width == length:
        return f"areas.{name}.length = {length:g}"
    return f"areas.{name} = {{ length = {length:g}, width = {width:g} }}"


def _limit(wish: Wish) -> str:
    return "" if wish.touches is None else f"touches = {wish.touches}, "


def _floaters(wish: Wish, who: str) -> list[str]:
    floaters = wish.numbers[2]
    return [f'roles.floater = {{ side = "holder", {_limit(wish)}players = {who} }}'] if floaters else []


def _partners(first: int, count: int) -> tuple[list[list[int]], bool]:
    """(pairs of neighbouring numbers, whether one is left over)."""
    numbers = range(first, first + count)
    return [list(pair) for pair in pairwise(numbers) if (pair[0] - first) % 2 == 0], count % 2 == 1


def _overload(wish: Wish) -> list[str]:
    mine, others, floaters = wish.numbers
    swap = 'swap = "loser", with = "longest in"'
    partners = []
    purpose = "Move it before they get there; lose it and you go in."
    if wish.pairs:
        out, odd_out = _partners(1, mine)
        inside, odd_in = _partners(mine + 1, others)
        alone = ", alone = true" if odd_out or odd_in else ""
        swap = f'swap = "loser and partner", with = "longest in"{alone}'
        partners = [f"teams.squad.pairs = {out + inside}"]
        purpose = "Help your partner; lose it and the two of you go in."
    style = 'style = "edge", ' if others <= ON_THE_LINES and not floaters else ""
    return [
        f'title = "{_title(wish)}"',
        f'purpose = "{purpose}"',
        f"bouts = {{ count = 4, minutes = {PER_BOUT_MIN[wish.kind]} }}",
        _ground(wish, "square"),
        *partners,
        f"roles.outside = {{ {style}{_limit(wish)}players = {mine} }}",
        f"roles.inside.players = {others}",
        *_floaters(wish, str(floaters)),
        f'rules.lost = {{ on = "loss", by = "outside", do = [{{ {swap} }}, {{ restart = "start" }}] }}',
        'restarts.out.to = "outside"',
    ]


def _even(wish: Wish) -> list[str]:
    mine, others, floaters = wish.numbers
    return [
        f'title = "{_title(wish)}"',
        f'purpose = "Find the free player; {_word(IN_A_ROW)} passes are a point."',
        f"bouts = {{ count = 4, minutes = {PER_BOUT_MIN[wish.kind]} }}",
        _ground(wish, "field"),
        f"roles.player = {{ {_limit(wish)}players = {{ amber = {mine}, slate = {others} }} }}",
        *_floaters(wish, f"{{ white = {floaters} }}"),
        f'rules.point = {{ on = "passes", count = {IN_A_ROW}, each = true, do = [{{ score = 1 }}] }}',
    ]
