"""What is said about the lines of areas: when a ball over one is out, passes to another area, and the ball between two."""

from __future__ import annotations

from sim.game.borders import apart, plays_across, touching
from sim.game.family import may, sides_at_start
from sim.game.lines import manned
from sim.game.model import Area, Game, Phase, Rule
from sim.game.verbs import ChangePhase, Close, Open, Reset, Resize, Serve
from sim.geometry import gaps
from sim.words.listing import listed, number, time
from sim.words.places import another_area, area_called

TOO_EARLY = " Played across too early it is out, and lost like any ball put over the line."
FASTEST_MPS = 7.0
"""Nobody in a game of possession runs faster from one area to the other, standing start and all (house default)."""


def played_across(game: Game, rule: Rule, side: str | None) -> str:
    """When a rule about transfers fires."""
    start = "" if rule.from_area is None else f" from {area_called(rule.from_area)}"
    end = "" if rule.to_area is None else f" to {area_called(rule.to_area)}"
    where = f"{start}{end}" if end else f"{start if start else ' across'} to {another_area(game)}"
    return f"{'Play' if side is None else f'If {side} play'} it{where} and get it under control there"


def across_once(phase: Phase) -> list[str]:
    """Where passes in a row open the way across and it closes with a ball across: that the same row does not open it again."""
    opened = any(rule.on == "passes" and not rule.each and Open(what="transfer") in rule.do for rule in phase.rules)
    closing = [rule.do for rule in phase.rules if rule.on == "transfer" and Close(what="transfer") in rule.do]
    anew = (ChangePhase, Serve)
    for do in closing:
        if opened and not any(isinstance(one, anew) or one == Reset(what="passes") for one in do):
            return [
                "After a ball across they cannot play across again in the same row of passes: no rule starts the count of passes "
                "again."
            ]
    return []


def resized_in_words(action: Resize) -> str:
    """How an area changes its size, and how far."""
    if action.metres < 0:
        how, until = "shorter and narrower", "down to"
    else:
        how, until = "longer and wider", "up to"
    by = number(abs(action.metres))
    return f"from the next dead ball on {area_called(action.what)} is {by} m {how}, {until} {number(action.to)} m"


def _pairs(pairs: tuple[tuple[Area, Area], ...]) -> str:
    return listed([f"between {area_called(one.name)} and {area_called(other.name)}" for one, other in pairs])


def at_the_lines(game: Game) -> list[str]:
    """When a ball is over the line of an area on whose line players stand: areas of which the same holds in one sentence."""
    alike: dict[tuple[str, float], list[str]] = {}
    for area in game.areas:
        if area.name in manned(game):
            alike.setdefault((area.out, area.run_off_in_play), []).append(area_called(area.name))
    return [
        f"A ball over the line of {listed(names)} is out at once, also for those who stand on it."
        if out == "line"
        else f"A ball over the line of {listed(names)} is out only when it leaves the {number(wide)} m around, or stops there with "
        "nobody on the line to have it: they step back to take it; those inside do not come out after it."
        for (out, wide), names in alike.items()
    ]


def between(game: Game) -> list[str]:
    """What holds for a ball over a line that has another area beyond it; nothing where that cannot be."""
    side_by_side, with_a_gap = touching(game), apart(game)
    if not side_by_side and not with_a_gap:
        return []
    if game.between_areas == "out":
        line = "A ball over the line of its area is out, towards another area too."
        if plays_across(game):
            line += (
                " Only a pass to another area may leave: somebody has to get it under control inside that area; it is out if "
                "anybody touches it, or it stops, on the way."
            )
        if may_be_too_early(game):
            line += TOO_EARLY
        return [line]
    lines = []
    if side_by_side:
        early = (
            " A ball played across too early brings no point: play goes on with it, and the passes count on."
            if may_be_too_early(game)
            else ""
        )
        lines.append(
            f"The line {_pairs(side_by_side)} is not out: whoever gets to the ball first has it{_there(game)}{early}"
        )
    if with_a_gap:
        lines.append(
            f"The ground {_pairs(with_a_gap)}{_beyond(with_a_gap)} is in play only while the ball is being played "
            "across: whoever gets there first has it, and it counts as in the area it left. Dribbled over the line of its area it "
            "is out."
        )
        if may_be_too_early(game):
            lines[-1] += TOO_EARLY
    return lines


def earned_across(game: Game) -> bool:
    """Whether a rule allows playing across."""
    return any(
        one.verb == "open" and one.what == "transfer"
        for phase in game.phases
        for rule in phase.rules
        for one in rule.do
    )


def _beyond(pairs: tuple[tuple[Area, Area], ...]) -> str:
    """Where the ground round an area is in play all the time: that what is said of the ground between is said of the rest."""
    wide = {area.run_off_in_play for pair in pairs for area in pair} - {0.0}
    return f", beyond the {listed([number(one) for one in sorted(wide)], 'or')} m round each," if wide else ""


def may_be_too_early(game: Game) -> bool:
    """Whether playing across has to be earned first."""
    earned = any(
        may(phase, "transfer", side) and not phase.may_from_the_start("transfer", side)
        for phase in game.phases
        for side in sides_at_start(game)
    )
    return earned and not any("home" in phase.all_aims for phase in game.phases)


def across_too_soon(game: Game) -> list[str]:
    """Of a new ball in the other of two areas: that nobody is there in time, where everybody goes where the ball is."""
    soon = [one for one in game.restarts if one.area == "across" and one.source == "server"]
    if not soon or len(game.areas) != 2:
        return []
    metres = max(0.0, *gaps(*(area.bounds for area in game.areas)))
    at_home = {place for role in game.roles for _, place in role.posts} >= {area.name for area in game.areas}
    late = [one for one in soon if metres > FASTEST_MPS * one.seconds]
    if at_home or not late:
        return []
    when = "at once" if not (least := min(one.seconds for one in late)) else f"after {time(least)}"
    return [
        f"A new ball in the other area {when} finds nobody there, as it is {number(metres)} m across: it is played in to somebody "
        "where he is by then. Give it more seconds."
    ]


def _there(game: Game) -> str:
    """Where play goes on with a ball that has rolled into another area."""
    moving = [phase.name for phase in game.phases if phase.ball_in == "active"]
    if not moving:
        return "."
    named = [f'"{name}"' for name in moving]
    when = "" if len(moving) == len(game.phases) else f" (in {listed(named)})"
    return f", and play goes on there{when}. That alone does not count as playing across."
