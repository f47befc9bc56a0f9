"""What to try after an estimate: a question that the answer leaves open, as a command that answers it.

One game tells nothing of another, so no change is recommended here: what stands out of this answer is handed to
`adjust`, which plays every change that the game can have and says which of them help.
"""

from __future__ import annotations

from sim.experiments.everyday import LOSSES, called
from sim.experiments.key_measures import MOST, aims_of, keys_of
from sim.experiments.stopping_rule import USUAL, key_measure_of
from sim.game.model import Game
from sim.results import Result
from sim.words.commands import Given, try_next
from sim.words.estimate_beside import OFTEN, enough_passes, go_without
from sim.words.evening_out import roles_change_hands
from sim.words.measure_phrases import noun
from sim.words.playing import shots_allowed

DEAD = 0.7
"""With the ball in play for less of the bout than this, dead time is worth a word (house default)."""


AT_ONCE_S, ENOUGH_BALLS = 2, 6
"""A server who is awake has the next ball in within so many seconds, with so many at his feet (house default)."""


def after_estimate(result: Result, game: Game, given: Given | None, asked: tuple[str, str] | None = None) -> list[str]:
    """What stands out first, and the card for it; of what was `asked` for, what would change that."""
    if asked is not None:
        return about_asked(asked, result, game, given)
    chance, share = result.row("chance_someone_defends_over_60").mean, result.row("in_play_share").mean
    if chance is not None and chance > OFTEN and roles_change_hands(game):
        why, aim = "to see what shares the defending out more evenly", "defending=less"
    elif share is not None and share < DEAD:
        why, aim = "to see what keeps the ball rolling for longer", "rolling=more"
    else:
        why, aim = "to see what you can change, and what each change does", f"{main_measure(game)}=more"
    return try_next(why, given and given.about("adjust", ("--aim", aim)), [f"adjust to {aim}"])


def about_asked(asked: tuple[str, str], result: Result, game: Game, given: Given | None) -> list[str]:
    """What to try where somebody cares about this measure."""
    measure, scope = asked
    cares = ("--measure", called(asked, game))
    if measure == "in_play_share":
        changes = sooner_back(game)
        if not changes:
            return ["A server with balls enough plays them in at once here: only fewer losses make it roll for longer."]
        bundle = f"a quick server: {'; '.join(changes)}"
        why = "to see what a quick server with six balls would do"
        return try_next(why, given and given.about("compare", ("--bundle", bundle), cares), changes)
    if measure == "points_per_min" and (fewer := fewer_passes(result, game)):
        change = (f"passes={fewer}",)
        return try_next(
            f"to see {fewer} played", given and given.about("compare", ("--change", *change), cares), change
        )
    if measure == "transfers_per_min" and (passes := passes_to_try(game)):
        rate = max(1, round(result.row(measure).mean or 1.0))
        target = ("--knob", f"passes={passes}"), ("--target", f"transfers={rate}")
        why = "to find the number of passes for your wish (it has to be played)"
        return try_next(why, given and given.about("tune", *target), [f"passes {passes}"])
    key = ("defending_share_most", "game") if measure == "chance_someone_defends_over_60" else asked
    if key not in aims_of(game):
        return try_next(
            "to see what you can change, and what each change does",
            given and given.about("adjust", ("--aim", f"{main_measure(game)}=more")),
            [],
        )
    way = "less" if key[0] == MOST else "more"
    aim = f"{called(key, game)}={way}"
    return try_next(
        f"to see what gives {way} {noun(*key, shots_allowed(game))}",
        given and given.about("adjust", ("--aim", aim)),
        [f"adjust to {aim}"],
    )


def sooner_back(game: Game) -> list[str]:
    """The changes of the file with which a server has six balls and plays each in at once; none where it is so already."""
    late = [f"restarts.{one.name}.seconds={AT_ONCE_S}" for one in game.restarts if one.seconds > AT_ONCE_S]
    return [*([f"supply.balls={ENOUGH_BALLS}"] if game.supply.balls < ENOUGH_BALLS else []), *late]


def fewer_passes(result: Result, game: Game) -> int | None:
    """The number of passes for a point that would do, where the one that is asked for leaves too many bouts without."""
    return enough_passes(result, game) if len(go_without(result, game)) > 1 else None


def passes_to_try(game: Game) -> str:
    """A range about the passes that the rules ask for, as it is typed; nothing where they ask for none, or for several numbers."""
    counts = {rule.count for phase in game.phases for rule in phase.rules if rule.on == "passes"}
    if len(counts) != 1 or (count := counts.pop()) is None:
        return ""
    return f"{max(1, int(count) - 2)}..{int(count) + 2}"


def main_measure(game: Game) -> str:
    """What this kind of game is about, as far as it can happen in this one, by its everyday name; losses of the ball in most."""
    wanted = key_measure_of(game)
    return LOSSES if wanted == USUAL or (wanted, "game") not in keys_of(game) else called((wanted, "game"), game)
