"""What the next bout has of the one before, and when no other follows, in plain words."""

from __future__ import annotations

from sim.game.model import Game
from sim.words.asked import top_of_the_ladder
from sim.words.listing import capital, number_word, some, time
from sim.words.role_changes import between_bouts

_FIRST = {
    "in turn": "The sides have the first ball of a bout in turn.",
    "winner": "The winner of a bout has the first ball of the next; after a draw the side that had it in that bout.",
    "loser": "The loser of a bout has the first ball of the next; after a draw the side that had it in that bout.",
    "holder": "Whoever has the ball at the end of a bout has the first ball of the next.",
}


def bouts_in_words(game: Game) -> list[str]:
    """How many bouts, how long, with which rests, and what each has of the one before."""
    bouts = game.bouts
    clock = clock_in_words(game)
    if bouts.count == 1:
        return [f"One bout of {time(bouts.seconds)}.", *clock]
    rest = f"{time(bouts.rest_seconds)} rest between" if bouts.rest_seconds else "no rest between"
    many = f"{'at most ' if bouts.best_of else ''}{number_word(bouts.count)}"
    return [f"{capital(many)} bouts of {time(bouts.seconds)}, {rest}. {between_bouts(game)}", *clock, *next_bout(game)]


def clock_in_words(game: Game) -> list[str]:
    """What the length of a bout is counted by, where it is not the watch."""
    if game.bouts.clock == "running":
        return []
    most = time(game.bouts.most_seconds)
    apart = ", extra time apart" if game.bouts.level_seconds or game.bouts.finish_seconds else ""
    return [f"The clock stands while the ball is dead; a bout is over after {most} by the watch at the latest{apart}."]


def next_bout(game: Game) -> list[str]:
    """What a bout has of the one before, beyond the roles, and when no other follows."""
    bouts, lines = game.bouts, []
    if bouts.count == 1:
        return []
    if bouts.best_of:
        most = bouts.count // 2 + 1
        over = f"it is over when a {bouts.points_by} has won {number_word(most)}"
        lines.append(f"Best of {number_word(bouts.count)}: {over}; a draw counts for nobody.")
    if bouts.first_ball in _FIRST:
        lines.append(_FIRST[bouts.first_ball])
    if bouts.points == "carry on":
        lines.append("The points go on from bout to bout.")
    return lines + top_of_the_ladder(game) + _staying(game)


def _staying(game: Game) -> list[str]:
    """Who goes off between two bouts."""
    bouts = game.bouts
    if bouts.stays is None:
        return []
    lines = [
        "The winner stays on: the team with fewer points changes places with the team longest off, number for number."
    ]
    if bouts.longest_stay is not None:
        lines.append(
            f"A team leaves after {some(bouts.longest_stay, 'bout')} in a row, even if it has won; then the other stays."
        )
    alike = "the team that has been on for more bouts in a row leaves (of two alike the one further down in the file)"
    return [*lines, f"After a draw {alike if bouts.tie == 'longest on' else 'nobody leaves'}."]
