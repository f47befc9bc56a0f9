"""How it is played where no rule of the file says so: keepers as supports, the front of a goal, room at restarts, a shot
at the whistle."""

from __future__ import annotations

from sim.game.having import kept, sides_having, stops
from sim.game.model import Area, Game, Goal, Phase
from sim.game.verbs import Open, OpenWindow
from sim.pitch.assumptions import USUAL
from sim.words.asked import loser_swaps
from sim.words.ground_words import TOWARDS
from sim.words.listing import capital, listed, number_word, some, time

_FRONT = {"west": "east", "east": "west", "south": "north", "north": "south"}  # by the end it stands at


def stages(game: Game) -> list[str]:
    """What the parts of a game of several phases are, for whom, and how long each lasts."""
    if len(game.phases) == 1:
        return []
    names = listed([f'"{phase.name}"' for phase in game.phases])
    each = "every bout begins with" if game.bouts.count > 1 else "it begins with"
    return [
        f'{capital(number_word(len(game.phases)))} stages, {names}, the same one for both sides; {each} "{game.start_phase}". '
        "A stage lasts until a rule turns it, whoever has the ball."
    ]


def shots_allowed(game: Game) -> bool:
    """Whether anybody may ever shoot."""
    opened = any("shoot" in phase.opened for phase in game.phases)
    return opened or any(
        isinstance(action, Open) and action.what == "shoot"
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
    )


def _keepers(game: Game, phase: Phase) -> list[str]:
    """Roles that keep a goal in a phase."""
    told = {job.role: job.style for job in phase.jobs}
    return [role.name for role in game.roles if told.get(role.name, role.style) == "goal"]


def _keepers_with_it(game: Game, phase: Phase) -> list[str]:
    """Those of them whose side can have the ball."""
    having = {*sides_having(game), "holder", "team"}
    return [role for role in _keepers(game, phase) if game.role(role).side in having]


def keepers_support(game: Game, phase: Phase) -> list[str]:
    """Where the ball is only kept: that keepers may be passed to, if theirs is a side that can have it."""
    if phase.all_aims == {"goal"} or not _keepers_with_it(game, phase):
        return []
    return ["The side with the ball may pass back to its keepers when their goal is on the area in play."]


def keepers_count(game: Game, phase: Phase) -> list[str]:
    """Where passes are counted, or bring something: that those of keepers do, too."""
    brings = any(rule.on == "pass" for rule in phase.rules)
    counted = any(rule.on == "passes" for rule in phase.rules) or game.win.confirm == "passes"
    counted |= any(counter.of == "passes" for counter in game.counters)
    does = [word for word, so in (("count", counted), ("bring what a pass brings", brings)) if so]
    if not does or not _keepers_with_it(game, phase):
        return []
    return [f"Passes by keepers and to them {listed(does)} like any other."]


def _behind(goal: Goal, area: Area) -> bool:
    """Whether an area has ground behind a goal."""
    west, south, east, north = area.bounds
    deep = {"west": goal.x - west, "east": east - goal.x, "south": goal.y - south, "north": north - goal.y}[goal.end]
    return deep > 0.0 and west <= goal.x <= east and south <= goal.y <= north


def fronts(game: Game) -> list[str]:
    """Of goals that stand inside an area: which way they look."""
    return [
        f"Goal {goal.name} looks {TOWARDS[_FRONT[goal.end]]}: a ball from behind it counts for nothing."
        for goal in game.goals
        if any(_behind(goal, area) for area in game.areas)
    ]


def supplied(game: Game) -> list[str]:
    """The balls there are, and that one comes at a time."""
    lines = []
    stopping = [[rule for rule in phase.rules if stops(rule)] for phase in game.phases]
    if any(len(rules) > 1 or any(rule.on == "time" for rule in rules) for rules in stopping):
        lines.append("One ball at a time: while a new one is on its way, nothing brings another.")
    supply, last = game.supply, game.bouts.balls
    more = supply.retrieve_seconds and (last is None or last > supply.balls)
    later = f"; after that each one takes {time(supply.retrieve_seconds)} longer" if more else ""
    return [*lines, f"{capital(some(supply.balls, 'ball'))} ready{later}."]


def room_at_restarts() -> list[str]:
    """How far opponents keep off whoever gets the ball."""
    return [
        f"At every start and restart opponents keep {USUAL['start_room']:g} m off whoever gets the ball, where there is room."
    ]


def until_it_is_won(game: Game) -> list[str]:
    """What a side may do with a ball it has not yet won for good."""
    if game.win.confirm in ("touch", "control"):
        return []
    lines = [
        "Until then it is still the other side's ball: if the new side put it out or hold it too long, nobody has lost it."
    ]
    nobody_swaps = " and nobody swaps" if loser_swaps(game) else ""
    anew = f"; the {some(game.win.amount, 'pass')} then start from none" if game.win.confirm == "passes" else ""
    lines.append(
        f"If the side that had it gets it back under control before that, nobody has lost it{nobody_swaps}{anew}. If it puts the "
        "ball out, it has lost it."
    )
    if nobody_swaps:
        lines.append("Once it is won the one who gave it away swaps, not whoever has touched it since.")
    if game.win.contested == "starts again":
        lines.append("If the side that had it has it back before that, its count of passes in a row starts again.")
    if shots_allowed(game):
        saved = "; a ball the keeper saves is won at once" if kept(game) else ""
        lines.append(f"Until then the new side may not shoot{saved}.")
    return lines


def charged(game: Game) -> list[str]:
    """Whom a loss is charged to, where the game has it otherwise than usual."""
    lines = []
    if game.loss.charged != "last touch":
        who = {
            "passer": "whoever played it",
            "receiver": "the one it was meant for",
            "nearest": "the one of the side nearest to it",
        }[game.loss.charged]
        lines.append(f"A pass that is lost before anybody has it under control is charged to {who}.")
    if game.loss.floater != "nobody":
        lines.append("A floater's loss is charged to the one of the side who touched the ball last before him.")
    return lines


def together(game: Game) -> list[str]:
    """Who of several at the ball changes places as the winner, where it is not the first to touch it."""
    who = {"longest in": "has been in longest", "next on the list": "is next on the list"}.get(game.win.together)
    if who is None:
        return []
    return [
        f"Of two at the ball together the first to touch it wins it, but whoever of them {who} changes places for it."
    ]


def not_in_windows(game: Game) -> list[str]:
    """What is true of every window to win the ball back."""
    if not any(isinstance(action, OpenWindow) for phase in game.phases for rule in phase.rules for action in rule.do):
        return []
    floaters = any(role.side == "holder" for role in game.roles)
    theirs = " A floater wins nothing back: he plays for those who have it." if floaters else ""
    turns = ", or as play goes on to something else," if len(game.phases) > 1 else ""
    again = any(rule.on == "not won back" and stops(rule) for phase in game.phases for rule in phase.rules)
    then = ". A new ball already in play is stopped again for what follows." if again else ", new ball or not."
    return [
        "Won back is a ball won like any other, and one that the others put out or lose in another way. Put out by the side that "
        "lost it, before it has it again, it is not won back: the new ball comes, the time runs on, and when it is up they have "
        f"failed{then}{theirs} What is still open at the whistle{turns} counts for nothing."
    ]


def at_the_whistle(game: Game) -> list[str]:
    """What becomes of a shot on its way when time is up."""
    until = "in, saved or out" if kept(game) else "in or out"
    return (
        [f"A shot struck before the whistle counts: time runs on until it is {until}."] if shots_allowed(game) else []
    )
