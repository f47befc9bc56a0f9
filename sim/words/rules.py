"""A game in plain words: what an assistant needs to lay it out and run it.

Every sentence is made from the resolved game, so that the words and what is played cannot part ways.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.borders import lies_in
from sim.game.family import sides_at_start
from sim.game.model import Action, Area, Game, Phase, Player, Restart, Role, Rule
from sim.game.names import called, written
from sim.game.space import rooms
from sim.words.areas import between, played_across
from sim.words.otherwise import after_shots, over_the_line, played_on, settled, stops
from sim.words.playing import at_the_whistle, fronts, keepers_support, room_at_restarts, until_it_is_won
from sim.words.trials import tests_in_words
from sim.words.turns import between_bouts, cut_off, of_the_last_pass, swapped
from sim.words.who import but_once, gainer, in_role, of_side, receiver

_STYLES = {"edge": "on the lines of", "free": "anywhere in", "goal": "keeper in", "wait": "waiting in"}
_AIMS = {
    "keep": "The side with the ball keeps it",
    "home": "The side with the ball brings it to its home area and keeps it there",
    "goal": "The side with the ball goes for goal",
}
_WHEN = {
    "win": "When the ball is won",
    "out": "When the ball goes over the line",
    "home": "When a side has got the ball home, or won it there",
    "goal": "On a goal",
    "save": "On a save",
    "miss": "When a shot misses",
}
_DID = {
    "win": "When {side} win the ball",
    "out": "When {side} put the ball over the line",
    "home": "When {side} have got the ball home, or won it there",
    "goal": "When {side} score a goal",
    "save": "When {side} save a shot",
    "miss": "When {side} miss with a shot",
}
_ALLOWED = {"transfer": "the ball may be played to another area", "shoot": "shots at goal count"}
_BARRED = {"transfer": "the ball may no longer be played to another area", "shoot": "shots at goal no longer count"}
_CAUSES = {
    "interception": "an interception",
    "tackle": "a tackle",
    "miscontrol": "bad control",
    "misplaced": "a misplaced pass",
    "out": "playing it over the line",
    "time limit": "holding it too long",
    "rule fault": "breaking a rule",
    "shot": "a shot",
}
_CHOSEN = {
    "nearest": "nearest the ball",
    "longest in": "longest in their role",
}


def _number(value: float) -> str:
    return f"{round(value, 1):g}"


def _listed(words: list[str], last: str = "and") -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def _some(count: float, one: str) -> str:
    many = f"{one}es" if one.endswith(("s", "ch")) else f"{one}s"
    return f"{_number(count)} {one if count == 1 else many}"


def _time(seconds: float) -> str:
    return f"{_number(seconds / 60)} min" if seconds >= 60 and seconds % 6 == 0 else f"{_number(seconds)} s"


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _small(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _place(place: str) -> str:
    return {"active": "the area with the ball", "home": "their home area"}.get(place, place)


def _lies(area: Area, earlier: list[Area]) -> str:
    """Where an area lies, from the first of the earlier ones it is inside or straight beside."""
    for other in earlier:
        if lies_in(area, other):
            middle = (area.x, area.y) == (other.x, other.y)
            return f", marked out in the middle of {other.name}" if middle else f", marked out inside {other.name}"
        w, s, e, n = area.bounds
        west, south, east, north = other.bounds
        for gap, side in ((w - east, "east"), (west - e, "west"), (s - north, "north"), (south - n, "south")):
            if gap >= -1e-6:
                apart = f"{_number(abs(gap))} m to the {side} of" if gap > 1e-6 else f"against the {side} side of"
                return f", {apart} {other.name}"
    return ""


def _ground(game: Game) -> list[str]:
    lines = []
    for index, area in enumerate(game.areas):
        size = f"{_number(area.length)} x {_number(area.width)} m"
        where = _lies(area, list(game.areas[:index]))
        lines.append(f"Area {area.name}: {size}{where}; {_number(area.run_off)} m free around it.")
    for goal in game.goals:
        size = f"{_number(goal.width)} m wide, {_number(goal.height)} m high"
        scorer = "either side scores in it" if goal.attacked_by == "any" else f"{goal.attacked_by} score in it"
        lines.append(f"Goal {goal.name}: at the {goal.end} end, {size}; {scorer}.")
    return lines + fronts(game)


def _side(role: Role) -> str:
    if role.side == "holder":
        return "always with the side that has the ball"
    return "with their own team" if role.side == "team" else f"on the {role.side} side"


def _called(player: Player) -> str:
    """A player within his team: by shirt number, or by id where one was written."""
    return called(player) if written(player) else str(player.number)


def _people(game: Game) -> list[str]:
    lines, later = [], []
    for role in game.roles:
        groups = []
        for team in game.teams:
            members = [player for player in game.players if player.team == team.name and player.role == role.name]
            members.sort(key=lambda player: (player.number, player.id))
            ids = [_called(player) for player in members]
            if ids:
                groups.append(f"{team.name} {_listed(ids)}")
        total = sum(player.role == role.name for player in game.players)
        place = f"{_STYLES[role.style]} {_place(role.place)}"
        touches = "free touches" if role.touches is None else f"at most {_some(role.touches, 'touch')}"
        does = f"{place}, {_side(role)}, {touches}{_asked(role)}"
        if groups:
            lines.append(f"{total} x {role.name} ({'; '.join(groups)}): {does}.")
        else:
            later.append(f"Nobody begins as {role.name}; who becomes one plays {does}.")
    for team in game.teams:
        if team.pairs:
            names = {player.id: _called(player) for player in game.players}
            lines.append(f"Pairs of {team.name}: {_listed([' with '.join(names[one] for one in pair) for pair in team.pairs])}.")
    homes = [f"{team.name} in {team.home}" for team in game.teams if team.home is not None]
    if homes:
        lines.append(f"At home: {_listed(homes)}.")
    return lines + later


def _asked(role: Role) -> str:
    """What the coach asks of a role beyond the usual, as more parts of a sentence."""
    found = []
    if role.press != 0.5:
        found.append(f"{'attack the ball' if role.press > 0.5 else 'contain'} (press {role.press:g})")
    if role.marking != 0.5:
        found.append(f"{'stay with a man' if role.marking > 0.5 else 'guard space'} (marking {role.marking:g})")
    if role.win_back_s:
        found.append(f"hunt the ball for {role.win_back_s:g} s after a loss")
    for name, value in (("wide", role.width), ("deep", role.depth)):
        if value != 1.0:
            found.append(f"{value:g} times as {name} as usual")
    if role.tempo != 0.5:
        found.append(f"{'play quickly' if role.tempo > 0.5 else 'play patiently'} (tempo {role.tempo:g})")
    if role.positions == "fixed":
        found.append("keep to fixed positions")
    if role.effort != 1.0:
        found.append(f"{100.0 * role.effort:.0f} % of the usual effort")
    return "".join(f", {one}" for one in found)


def _served(restart: Restart, on: str) -> str:
    """How a ball comes back after an event."""
    to = receiver(restart.to, on)
    place = {"active": "where the ball was being played", "home": "in their home area"}.get(
        restart.area, f"in {restart.area}"
    )
    wait = f"after {_time(restart.seconds)}" if restart.seconds else "at once"
    match restart.source:
        case "server":
            return f"the server plays a new ball to {to} {place} {wait}"
        case "line":
            where = "went out" if on in ("out", "miss") else "was"
            later = "after that " if restart.seconds else ""  # whoever is nearest has to run there
            return f"the ball goes to {to} from where it {where} {wait}, or as soon {later}as somebody is there"
        case "keeper":
            return f"the keeper plays it out for {to} {wait}"


def _consequence(game: Game, rule: Rule, action: Action) -> str:
    match action.verb:
        case "open":
            return _ALLOWED[action.what]
        case "close":
            return _BARRED[action.what]
        case "score":
            gets = "gets" if action.to in ("holder", "winner", "loser") else "get"
            return f"{gainer(rule, action.to)} {gets} {_some(action.value, 'point')}"
        case "swap":
            return swapped(action)
        case "trade":
            return "the two teams exchange all roles"
        case "assign":
            if action.other == "passer and receiver":
                kind = in_role(action.from_role, None).removeprefix("all ")
                return of_the_last_pass(action, f"{kind}{of_side(rule, action.who)}{but_once(rule, action)}")
            free = ", never the one who has it" if action.other == "nearest" and action.who != "other" else ""
            who = f"{in_role(action.from_role, action.count)}{of_side(rule, action.who)}{but_once(rule, action)}"
            chosen = "" if action.count is None else f" ({_CHOSEN[action.other]}{free})"
            return f"{who}{chosen} {'becomes' if action.count == 1 else 'become'} {action.role}"
        case "phase":
            return f"the game turns to {action.what}"
        case "restart":
            return _served(game.restart(action.what), rule.on)
        case "reset":
            return f"the count of {action.what} begins again"
        case "end":
            return "the bout is over"


def _caused(causes: Sequence[str]) -> str:
    """The causes of a loss; nothing where any will do."""
    return f" by {_listed([_CAUSES[cause] for cause in causes], 'or')}" if causes else ""


def _when(rule: Rule) -> str:
    if rule.on in ("passes", "wins"):
        counted = _some(rule.count, "pass" if rule.on == "passes" else "win")
        inside = " in a row" if rule.on == "passes" else ""
        by = f" by {rule.by}" if rule.by else ""
        return f"{'Every' if rule.each else 'After'} {counted}{inside}{by}"
    if rule.on == "time":
        return f"{_number(rule.count)} s after this begins"
    if rule.on == "transfer":
        return played_across(rule)
    if rule.on == "loss":
        causes = _caused(rule.causes)
        return f"When {rule.by} lose the ball{causes}" if rule.by else f"When the ball is lost{causes}"
    return _DID[rule.on].format(side=rule.by) if rule.by else _WHEN[rule.on]


def _phase(game: Game, phase: Phase) -> list[str]:
    where = "in the area where it is" if phase.ball_in == "active" else f"in {phase.ball_in}"
    lines = [f"{_AIMS[phase.aim]}; the ball is played {where}."]
    for what in phase.open:
        lines.append(f"{_capital(_ALLOWED[what])} from the start.")
    for job in phase.jobs:
        lines.append(f"Meanwhile {in_role(job.role, None).removeprefix('all ')} stand {_STYLES[job.style]} {_place(job.place)}.")
    lines += keepers_support(game, phase)
    counted = [word for word in ("passes", "wins") if any(rule.on == word for rule in phase.rules)]
    if counted and len(game.phases) > 1:
        lines.append(f"{_capital(_listed(counted))} are counted from when this begins.")
    once = list(dict.fromkeys(rule.on for rule in phase.rules if rule.on in ("passes", "wins") and not rule.each))
    if once:
        lines.append(f"A number of {_listed(once, 'or')} counts once, until the count begins again.")
    for do in dict.fromkeys(rule.do for rule in phase.rules):
        alike = [rule for rule in phase.rules if rule.do == do]
        said: dict[str, list[str]] = {}
        for rule in alike:  # what a side is called depends on what has happened
            said.setdefault("; ".join(_consequence(game, rule, action) for action in do), []).append(_when(rule))
        for then, (first, *more) in said.items():
            lines.append(f"{_listed([first, *dict.fromkeys(_small(when) for when in more if when != first)], 'or')}: {then}.")
    out = _served(game.restart("out"), "out")
    lines += played_on(game, phase, _caused)
    lines += over_the_line(game, phase, out)
    lines += after_shots(game, phase, _served(game.restart("start"), "goal"), _served(game.restart("out"), "miss"))
    return lines


def _always(game: Game) -> list[str]:
    lines = [f"Nobody keeps the ball longer than {_time(game.hold_limit_s)}: {_too_long(game)}."]
    confirm, amount = game.win.confirm, game.win.amount
    if confirm == "control":
        lines.append("The ball is won when an opponent has it under control.")
    elif confirm == "hold":
        lines.append(f"The ball is won when an opponent has held it for {_time(amount)}.")
    else:
        lines.append(f"The ball is won when the opponents have made {_some(amount, 'pass')}.")
    lines += until_it_is_won(game) + room_at_restarts() + at_the_whistle(game) + between(game)
    if any(sum(stops(rule) for rule in phase.rules) > 1 for phase in game.phases):
        lines.append("Once a new ball has been called for, no rule calls another until it is in play.")
    supply = game.supply
    ready = f"{_some(supply.balls, 'ball')} ready at the area"
    later = f"; after that each one takes {_time(supply.retrieve_seconds)} more" if supply.retrieve_seconds else ""
    lines.append(f"{ready}{later}.")
    return lines


def _too_long(game: Game) -> str:
    """What becomes of a ball that was held too long."""
    ruled = [settled(phase, "loss", side, "time limit") for phase in game.phases for side in sides_at_start(game)]
    served = _served(game.restart("out"), "loss")
    if all(ruled):
        return "then it is lost"
    return f"then it is lost, and {'where no rule gives a new ball ' if any(ruled) else ''}{served}"


def _bouts(game: Game) -> str:
    bouts = game.bouts
    count = f"{bouts.count} bouts" if bouts.count > 1 else "1 bout"
    rest = f", {_time(bouts.rest_seconds)} rest between" if bouts.count > 1 else ""
    return f"{count} of {_time(bouts.seconds)}{rest}{f'; {between_bouts(game)}' if bouts.count > 1 else ''}."


def _points(game: Game) -> str:
    said = [
        f"{_some(action.value, 'point')} for {gainer(rule, action.to)} ({_small(_when(rule))})"
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
        if action.verb == "score"
    ]
    ways = list(dict.fromkeys(said))  # two phases may give the same points for the same thing
    return f"{_capital(_listed(ways))}." if ways else "No points are counted."


def _rooms(game: Game) -> list[str]:
    lines = []
    for room in rooms(game):
        apart = []
        if room.outside_floaters:
            apart.append(_some(len(room.outside_floaters), "floater") + " on the lines")
        if room.keepers:
            apart.append(_some(len(room.keepers), "keeper"))
        rest = f"; not counted: {_listed(apart)}" if apart else ""
        lines.append(f"{_number(room.per_player_m2)} m2 each in {room.area} ({len(room.counted)} players{rest}).")
    return lines


def rules_in_words(game: Game) -> str:
    """The whole game as short lines under headings."""
    blocks = [(f"{game.title} ({game.club})", [game.purpose]), ("Set-up", _ground(game) + _people(game))]
    careful = [called(player) for player in game.players if player.restricted]
    if careful:
        blocks.append(("On reduced load", [f"No change is proposed that may give more to do to {_listed(careful)}."]))
    tested = tests_in_words(game)
    if tested:
        blocks.append(("Known from tests", tested))
    start = f"{_capital(game.start_side)} have the ball first, played in by the server in {game.start_area}."
    for phase in game.phases:
        heading = "Play" if len(game.phases) == 1 else f"Play: {phase.name}"
        first = [start] if phase.name == game.start_phase else []
        blocks.append((heading, first + _phase(game, phase)))
    blocks += [("Always", _always(game)), ("Points", [_points(game)]), ("Bouts", [_bouts(game), *cut_off(game)])]
    blocks.append(("Area per player", _rooms(game)))
    said = [(heading, list(dict.fromkeys(lines))) for heading, lines in blocks if lines]
    return "\n\n".join("\n".join([heading, *(f"  {line}" for line in lines)]) for heading, lines in said)
