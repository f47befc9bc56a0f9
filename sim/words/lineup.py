"""Who plays what: the line of every role, pairs, home areas, and who is on reduced load."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.equipment import bibs_of
from sim.game.family import sides_at_start
from sim.game.model import Game, Role
from sim.game.names import only_team, spoken_of
from sim.game.verbs import Score
from sim.words.asked import on_the_lines
from sim.words.listing import capital, listed, number_word, some
from sim.words.places import place_called, within
from sim.words.role_changes import absent, absent_together
from sim.words.who import counted_in, of_team, side_called, some_in

MANY_ROLES = 3  # from here on what holds of all of them is said once
USUAL_SHARE = 0.5  # of what a role can be asked on a scale from 0 to 1: nothing is asked


def post(game: Game, style: str, place: str) -> str:
    """Where a role plays: "on the lines of the square"."""
    if style == "goal":
        return f"in goal ({place})"
    if style == "edge":
        return f"on the lines of {place_called(game, place)}"
    return f"{'waiting' if style == 'wait' else 'anywhere'} {within(game, place)}"


def where_they_play(game: Game, role: Role) -> str:
    """Where a role plays, with the ball and without it where that is not the same."""
    turned = (("with", role.with_ball), ("without", role.without_ball))
    own = post(game, role.style, role.place)
    if not role.turns:
        return own
    return listed([f"{when} the ball {own if there is None else post(game, *there)}" for when, there in turned])


def task_of(game: Game, style: str, place: str) -> str:
    """What a role is told to do in one phase: "wait in the middle"."""
    does = {"goal": f"are in goal ({place})", "edge": f"play on the lines of {place_called(game, place)}"}
    return does.get(style) or f"{'wait' if style == 'wait' else 'play anywhere'} {within(game, place)}"


def _side(game: Game, role: Role) -> str:
    """With whom a role shares the ball; nothing where its name says so."""
    if role.side == "holder":
        return ", always with the side on the ball"
    if role.side == "team":
        return ", with their own team"
    return "" if role.side in (role.name, f"{role.name}s") else f", with {side_called(game, role.side)}"


def _touches(role: Role) -> str:
    """``two touches``; ``three touches, then 2 and 1 step by step``."""
    touches = "free touches" if role.touches is None else some(role.touches, "touch")
    if not role.ladder:
        return touches
    return f"{touches}, then {listed([number_word(step) for step in role.ladder])} step by step (who comes new begins at the top)"


def _does(game: Game, role: Role, shared: Sequence[str] = (), in_short: bool = False) -> str:
    """Where and how a role plays; without what is said of all of them (`shared`); `in_short`: in words alone."""
    how = [one for one in (_side(game, role).removeprefix(", "), _touches(role)) if one and one not in shared]
    return f"{', '.join([where_they_play(game, role), *how])}{_by_hand(role)}{_asked(game, role, in_short)}"


def _shared(game: Game) -> list[str]:
    """What holds of every role: with whom they share the ball, how many touches they have; nothing where there are few roles."""
    if len(game.roles) < MANY_ROLES:
        return []
    sides, touches = ({how(role) for role in game.roles} for how in (lambda role: _side(game, role), _touches))
    return [one for found in (sides, touches) if len(found) == 1 and (one := found.pop().removeprefix(", "))]


_TACKLED = {
    "never": "not tackled",
    "after a back-pass": "tackled only with a ball that a team-mate has played to them",
}


def _by_hand(role: Role) -> str:
    """What becomes of a ball in their hands, where it is not as usual."""
    found = [_TACKLED[role.tackled]] if role.tackled in _TACKLED else []
    if not role.hands:
        found.append("feet only (a shot they stop runs loose)")
    return "".join(f", {one}" for one in found)


def _asked(game: Game, role: Role, in_short: bool) -> str:
    """What the coach asks of a role beyond the usual, as more parts of a sentence; `in_short`: without the shares of the file."""
    found = []

    def share(name: str, value: float) -> str:
        return "" if in_short else f" ({name} {value:g})"

    if role.press != USUAL_SHARE:
        found.append(f"{'go and win it' if role.press > USUAL_SHARE else 'hold off'}{share('press', role.press)}")
    if role.marking != USUAL_SHARE:
        found.append(f"{'mark a man' if role.marking > USUAL_SHARE else 'guard space'}{share('marking', role.marking)}")
    if role.win_back_s:
        since = "after losing it" if game.win.confirm in ("touch", "control") else "from the moment the others have it"
        found.append(f"all hunt the ball for {role.win_back_s:g} s {since}, then defend as before")
    for value, more, less in ((role.width, "wider", "narrower"), (role.depth, "deeper", "flatter")):
        if value != 1.0:
            found.append(f"stay {more if value > 1.0 else less} than usual ({value:g} times)")
    if role.tempo != USUAL_SHARE:
        found.append(f"{'play quickly' if role.tempo > USUAL_SHARE else 'be patient'}{share('tempo', role.tempo)}")
    if role.positions == "fixed":
        found.append("hold their positions")
    if role.effort != 1.0:
        found.append(f"run {'harder' if role.effort > 1.0 else 'less hard'} than usual ({100.0 * role.effort:.0f} %)")
    return "".join(f", {one}" for one in found)


def lines_of_roles(game: Game, in_short: bool = False) -> list[str]:
    """A line a role, those nobody begins in last; `in_short`: what holds of all of them once, and those in one line."""
    lines, later = [], []
    shared = _shared(game) if in_short else []
    for role in game.roles:
        groups = []
        for team in game.teams:
            members = [player for player in game.players if player.team == team.name and player.role == role.name]
            if members:
                groups.append(of_team(game, team.name, members))
        if groups:
            total = sum(player.role == role.name for player in game.players)
            called = some_in(role.name, total) if in_short else counted_in(role.name, total)
            lines.append(f"{called} ({'; '.join(groups)}): {_does(game, role, shared, in_short)}.")
        else:
            later.append((role.name, _does(game, role, shared, in_short)))
    everybody = [f"Everybody: {', '.join(shared)}."] if shared else []
    nobody = absent_together(later) if in_short else [absent(*one) for one in later]
    told = [*one_side(game), *common(game), *_pairs(game), *_homes(game), *nobody]
    return [*everybody, *lines, *told, *on_the_lines(game)]


def one_side(game: Game) -> list[str]:
    """Where two colours are one side: which, and how they score."""
    worn = {one.team for one in bibs_of(game)} - {None}
    scored = any(isinstance(action, Score) for phase in game.phases for rule in phase.rules for action in rule.do)
    lines = []
    for side in sides_at_start(game):
        teams = sorted({one.team for one in game.players if game.role(one.role).side == side and one.team in worn})
        if len(teams) > 1:
            points = f"; a point is for {side_called(game, side)}, whichever colours they are, not for a colour"
            if game.bouts.points_by == "colour":
                points = "; a point of theirs is one for each colour among them then"
            together = f"play together as one side, {side_called(game, side)}"
            lines.append(f"{capital(listed(teams))} {together}{points if scored else ''}.")
    return lines


def common(game: Game) -> list[str]:
    """Floaters whom a pass for a point goes to: that both sides play to the same ones."""
    asked = {rule.to_role for phase in game.phases for rule in phase.rules if rule.on == "pass"}
    found = [role.name for role in game.roles if role.side == "holder" and role.name in asked]
    if not found:
        return []
    them = "him" if len(found) == 1 else "the same one"
    rules = [rule for phase in game.phases for rule in phase.rules if rule.on == "pass" and rule.to_role in found]
    between = len(found) > 1 and all(rule.by_role is not None and rule.by_role not in found for rule in rules)
    nothing = " Straight from one of them to another brings nothing." if between else ""
    return [
        f"{capital(listed([f'the {name}' for name in found]))} {'is' if len(found) == 1 else 'are'} common to both sides: "
        f"whoever has the ball plays to {them}, and it counts wherever {'he' if len(found) == 1 else 'that one'} gets it; "
        f"a loose ball is still that of the side that had it.{nothing}"
    ]


def _pairs(game: Game) -> list[str]:
    called = {player: name.removeprefix("player ") for player, name in spoken_of(game).items()}
    paired = [team for team in game.teams if team.pairs]
    return [
        f"Pairs{'' if team.name == only_team(game) else f' of {team.name}'}: "
        f"{listed([' with '.join(called[one] for one in pair) for pair in team.pairs])}."
        for team in paired
    ]


def _homes(game: Game) -> list[str]:
    homes = [f"{team.name} {within(game, team.home)}" for team in game.teams if team.home is not None]
    return [f"At home: {listed(homes)}."] if homes else []


def reduced(game: Game) -> list[str]:
    """Who is on reduced load."""
    called = spoken_of(game)
    careful = [called[player.id] for player in game.players if player.restricted]
    return [f"Nothing is proposed that could give more to do to {listed(careful)}."] if careful else []
