"""The words on the diagram of a game: sizes in metres and paces, who is who, the balls, and what unlocks what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from sim.game.counters import Gate
from sim.game.family import side_of, sides_at_start
from sim.game.model import Area, Game, Goal, Player, Rule
from sim.game.names import written
from sim.game.opened import EITHER
from sim.game.verbs import Action, Assign, ChangePhase, EndBout, Open, OpenWindow, Score, Step, Swap, Trade
from sim.game.zones import Zone
from sim.units import METRES_PER_YARD
from sim.words.deeds import deed_in_short
from sim.words.ground_words import DRAWN, as_drawn
from sim.words.listing import listed, number_word
from sim.words.plurals import figured
from sim.words.who import becomes

PACE_M = 0.75  # a grown-up's walking step (the 30 inches of a drill pace); everybody measures his own once
PACE = f"A pace here is a walking step of {100 * PACE_M:.0f} cm: count yours once over 10 m."
YARDS = "yd"
FLOATERS = "holder"
HARD = "\N{NO-BREAK SPACE}"  # a number stays with its name
ANY_TIME = "at any time"
MOST_RULES = 6  # lines of what unlocks what; the sheet and `check` have them all
COUNTED = {"passes": ("pass", "passes"), "wins": ("ball won", "balls won")}
WHEN = {
    "win": "ball won",
    "home": "ball brought home",
    "goal": "goal",
    "save": "save",
    "miss": "shot wide",
    "loss": "ball lost",
    "out": "ball out",
    "won back": "won back in time",
    "not won back": "not won back in time",
}
GOES = {
    "loser": "the loser swaps",
    "winner": "the winner swaps",
    "longest in": "the one longest in swaps",
    "next on the list": "the next on the list swaps",
}
COMES = {
    "winner": "whoever won it",
    "longest in": "whoever has been in longest",
    "next on the list": "the next on the list",
    "waiting": "whoever has waited longest",
}
EDGES = {
    "west": DRAWN["west"],
    "east": DRAWN["east"],
    "south": f"{DRAWN['south']} side",
    "north": f"{DRAWN['north']} side",
}
"""What stands at the edges of a picture."""

MAY = {"transfer": "can play across", "shoot": "can shoot"}
TOLD = (
    "passes",
    "wins",
    "transfer",
    "home",
    "time",
    "loss",
    "win",
    "goal",
    "pass",
    "carry",
    "counter",
    "foul",
)  # in the order of the file, losses only with a swap
DEEDS = ("pass", "carry", "counter", "foul")
FOULED = "whoever was fouled"
UNLOCKS, S, HOME = "What unlocks what", "S", "bring it home"


def paces(metres: float) -> int:
    """A length in walking steps, to the nearest one."""
    return round(metres / PACE_M)


def metres_said(metres: float) -> str:
    """``11``, ``18.3``."""
    return f"{metres:.1f}".removesuffix(".0")


def size_in_both_units(area: Area, unit: str = "m") -> str:
    """``11 x 11 m``; in a game that is written in yards ``20 x 16 yd (18.3 x 14.6 m)``."""
    own = f"{metres_said(area.length)} x {metres_said(area.width)} m"
    if unit != YARDS:
        return own
    yards = " x ".join(metres_said(one / METRES_PER_YARD) for one in (area.length, area.width))
    return f"{yards} yd ({own})"


def paces_of(area: Area) -> str:
    """``15 x 15 paces``."""
    return f"{paces(area.length)} x {paces(area.width)} paces"


def area_label(game: Game, area: Area, unit: str = "m") -> list[str]:
    """The lines beside an area: its name, size and paces, and whose home it is."""
    homes = [team.name for team in game.teams if team.home == area.name]
    whose = f", home of {listed(homes)}" if homes else ""
    return [f"{area.name}{whose}", size_in_both_units(area, unit), paces_of(area)]


def played_on(game: Game) -> list[str]:
    """``Dotted line, 2 m outside square: play goes on up to there, ...``; a line a width, none where nobody plays there."""
    widths: dict[float, list[str]] = {}
    for area in game.areas:
        if area.run_off_in_play:
            widths.setdefault(area.run_off_in_play, []).append(area.name)
    return [
        f"Dotted line, {metres_said(wide)} m outside {listed(names)}: play goes on up to there; those on the lines step back."
        for wide, names in widths.items()
    ]


def goal_of(goal: Goal, allowed: str) -> list[str]:
    """``5 m, slate score``; on a second line from when on, where that is not from the start."""
    who = "either side scores" if goal.attacked_by == "any" else f"{goal.attacked_by} score"
    return [f"{metres_said(goal.width)} m, {who}", *([allowed] if allowed and allowed != ANY_TIME else [])]


def gate_label(gate: Gate) -> str:
    """``left, 2 m``."""
    return f"{gate.name}, {metres_said(gate.width)} m"


def zone_label(game: Game, zone: Zone) -> str:
    """``west-end, not slate``; how many at most."""
    words = {"holder": "those with the ball", "other": "those without the ball"}
    shut = [f"not {listed([words.get(who, who) for who in zone.closed_to])}"] if zone.closed_to else []
    numbers = [
        f"{words.get(one.who, one.who)} {one.least if one.least else ''}{'' if one.most is None else f' to {one.most}'}".rstrip()
        if one.least
        else f"{words.get(one.who, one.who)} up to {one.most}"
        for one in zone.limits
    ]
    return ", ".join([zone.name, *shut, *numbers])


def scale_bar(metres: float) -> str:
    """The words on the bar that gives the scale: ``5 m, 7 paces``."""
    return f"{metres:g} m, {figured(paces(metres), 'pace')}"


def stock(game: Game) -> str:
    """The server with his balls, who has the first, and how soon a new one comes."""
    balls = game.supply.balls
    first = f"{S}: the server with {figured(balls, 'ball')}; {game.start_side} have the first."
    waits = sorted({one.seconds for one in game.restarts if one.source == "server" and one.name != "start"})
    if not waits:
        return first
    said = metres_said(waits[0]) if len(waits) == 1 else f"{metres_said(waits[0])} to {metres_said(waits[-1])}"
    return f"{first} A new one comes after {said} s."


@dataclass(frozen=True)
class Group:
    """Players of one side, in one role and one team, as the key names them."""

    side: str
    team: str
    keeper: bool
    text: str


def sides_of(game: Game) -> list[str]:
    """All sides, whoever has the ball first leading, floaters last."""
    found = dict.fromkeys([game.start_side, *sides_at_start(game)])
    there = {side_of(game, player) for player in game.players}
    return [side for side in found if side in there] + [FLOATERS] * (FLOATERS in there)


def groups_of(game: Game) -> list[Group]:
    """``outside: 1, 2, 3, 4``, a group a role and team; names that are written stand behind the number."""
    found = []
    for side in sides_of(game):
        own = [player for player in game.players if side_of(game, player) == side]
        for role, team in dict.fromkeys((player.role, player.team) for player in sorted(own, key=shirt)):
            members = sorted((one for one in own if (one.role, one.team) == (role, team)), key=shirt)
            people = ", ".join(f"{one.number}{HARD}{one.id}" if written(one) else str(one.number) for one in members)
            found.append(
                Group(side, team, game.role(role).style == "goal", f"{group_heading(game, side, role, team)}: {people}")
            )
    return found


def shirt(player: Player) -> tuple[str, int, str]:
    """By what players of a role are put in order: team, number, id."""
    return player.team, player.number, player.id


def group_heading(game: Game, side: str, role: str, team: str) -> str:
    """``outside``, ``amber, home``, ``floater, in white``."""
    keeper = " (keeper)" if game.role(role).style == "goal" and "keeper" not in role else ""
    several = len({player.team for player in game.players}) > 1
    if side == FLOATERS:
        return f"{role}, with whoever has the ball" + (f", in {team}" if several else "")
    if side == team:
        alone = len({player.role for player in game.players if player.team == team}) == 1
        return side if alone else f"{side}, {role}{keeper}"
    first = side if side in (role, f"{role}s") else f"{side}, {role}"
    return f"{first}{keeper}" + (f", in {team}" if several else "")


def unlocking(game: Game) -> list[str]:
    """What opens, counts or changes with what, each in a line of few words; the rest is counted."""
    found = []
    for phase in game.phases:
        start = f"in {phase.name}, " if len(game.phases) > 1 else ""
        for rule in phase.rules:
            turns = any(isinstance(action, ChangePhase) for action in rule.do)
            then = [said for action in rule.do if (said := consequence_on_diagram(game, action, turns)) is not None]
            then = [in_words_of_fouls(said) for said in then] if rule.on == "foul" else then
            if rule.on in TOLD and then:
                found.append(f"{start}{condition_in_short(game, rule)}: {listed(then)}")
    found = list(dict.fromkeys(found))
    more = len(found) - MOST_RULES
    if more <= 0:
        return found
    return [*found[: MOST_RULES - 1], f"and {more + 1} more: see `overload check`"]


def in_words_of_fouls(said: str) -> str:
    """What follows a foul: its loser is who fouled, and its winner who was fouled."""
    for word, meant in (("the loser", "whoever fouled"), ("the winner", FOULED), ("whoever won it", FOULED)):
        said = said.replace(word, meant)
    return said


def condition_in_short(game: Game, rule: Rule) -> str:
    """``4 passes in a row``, ``each 6 passes in a row``, ``played across``, ``ball lost``."""
    who = f" by {listed([one for one in (rule.by, rule.colour) if one])}" if rule.by or rule.colour else ""
    if rule.on in COUNTED:
        one, many = COUNTED[rule.on]
        row = " in a row" if rule.on == "passes" else ""
        return f"{'each ' if rule.each else ''}{rule.count:g} {one if rule.count == 1 else many}{row}{who}"
    if rule.on == "time":
        return f"{'each' if rule.each else 'after'} {rule.count:g} s"
    if rule.on in DEEDS:
        return f"{deed_in_short(game, rule)}{who}"
    if rule.on == "transfer":
        return f"played across{f' to {rule.to_area}' if rule.to_area else ''}{who}"
    return f"{WHEN[rule.on]}{who}"


def _may(game: Game, action: Open, turns: bool) -> str:
    alone = action.to if action.to not in (None, *EITHER) else ""
    if action.what not in MAY:
        return f"zone {action.what} open{f' for {alone}' if alone else ''}"
    return f"{alone or 'they'} {MAY[action.what]}"


def _points(game: Game, action: Score, turns: bool) -> str:
    return figured(action.value, "point")


def _swap(game: Game, action: Swap, turns: bool) -> str:
    goes = GOES.get(action.who, f"{action.who}{' (if there)' if action.alone else ''} swap")
    return f"{goes} with {COMES[action.other]}"


def _trade(game: Game, action: Trade, turns: bool) -> str:
    return "the teams change roles"


def _assign(game: Game, action: Assign, turns: bool) -> str | None:
    if action.count is None:
        return None if turns else f"all {becomes(action.role, None)}"
    return f"{number_word(action.count)} {becomes(action.role, action.count)}"


def _change_phase(game: Game, action: ChangePhase, turns: bool) -> str:
    return f"{'back' if action.what == game.start_phase else 'on'} to {action.what}"


def _window(game: Game, action: OpenWindow, turns: bool) -> str:
    return f"{f'{action.length:g} s' if action.unit == 'seconds' else figured(action.length, 'pass')} to win it back"


def _step(game: Game, action: Step, turns: bool) -> str:
    return "one step down in touches"


def _end(game: Game, action: EndBout, turns: bool) -> str:
    return "the bout is over"


IN_SHORT: dict[type, Callable[[Game, Any, bool], str | None]] = {
    Open: _may,
    Score: _points,
    Swap: _swap,
    Trade: _trade,
    Assign: _assign,
    ChangePhase: _change_phase,
    EndBout: _end,
    OpenWindow: _window,
    Step: _step,
}
"""The words of the consequences that stand on a diagram."""


def consequence_on_diagram(game: Game, action: Action, turns: bool) -> str | None:
    """A consequence in few words; None for what only puts the game back: a new ball, a count that begins again, and, where
    the game `turns` to something else, everybody's role of before."""
    return IN_SHORT[type(action)](game, action, turns) if type(action) in IN_SHORT else None


def opened_by(game: Game, what: str) -> str:
    """When playing across or shooting is allowed: "at any time", for whom alone, or after what; nothing where it never is."""
    start = game.phase(game.start_phase)
    if what in start.open:
        return ANY_TIME
    first = [side for side, more in start.open_for if what in more]
    for phase in game.phases:
        for rule in phase.rules:
            whom = opened_for(game, rule, what)
            if whom is not None and (not whom or set(whom) - set(first)):
                then = f"after {condition_in_short(game, rule)}{f', for {listed(whom)}' if whom else ''}"
                return f"for {listed(first)}; {then}" if first else then
    return f"for {listed(first)}" if first else ""


def opened_for(game: Game, rule: Rule, what: str) -> list[str] | None:
    """The sides that a rule allows something, itself or by the phase it leads to; empty: all, None: nobody."""
    whom: list[str] = []
    for one in rule.do:
        if isinstance(one, Open) and one.what == what:
            if one.to is None or one.to in EITHER:
                return []
            whom.append(one.to)
        elif isinstance(one, ChangePhase):
            phase = game.phase(one.what)
            if what in phase.open:
                return []
            whom += [side for side, more in phase.open_for if what in more]
    return whom or None


def edges_of(game: Game) -> dict[str, str]:
    """What stands at the edges of its picture; with the word of the file where a game has to be told in that."""
    tell = as_drawn(game)
    return {one: said if tell(one) != one else f"{said} ({one})" for one, said in EDGES.items()}


def played_across_to(game: Game) -> list[Area]:
    """The areas in which whoever has the ball first, or a floater, waits for it; all where nobody does."""
    theirs = (game.start_side, FLOATERS)
    places = {game.role(one.role).place for one in game.players if side_of(game, one) in theirs}
    start = game.start_area
    return [area for area in game.areas if area.name in places - {start}] or list(game.areas)


def source(name: str, changes: Sequence[str], version: str) -> str:
    """The last line: which game it is, and what was changed."""
    return f"{name}{f' with {listed(changes)}' if changes else ''}; overload {version}"


def drawn(place: str) -> str:
    """What the command says when it has drawn."""
    return f"Diagram: {place}"


def no_letters(letters: Sequence[str]) -> str:
    """Why a name cannot be drawn."""
    return f"must be written in letters that our font has (got {listed([repr(one) for one in letters])})"
