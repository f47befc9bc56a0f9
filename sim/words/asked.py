"""What people ask on the grass though no rule of the file says it: what whoever stands on a line may do, which gate was a side's
last, what a zone means for a loose ball, where a count of touches begins.

Every sentence says what play does, and stands only where it can come up.
"""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.having import sides_scoring, stops
from sim.game.model import Game, Rule
from sim.game.names import only_team, spoken_of
from sim.game.verbs import TEAM, ChangePhase, Score, Serve, Swap, Trade, unit_of
from sim.game.zones import OTHER
from sim.words.listing import listed, number

STROKES = 6 * "."
NO_DEFENDING = "No defending: when one who may not go in loses it, nobody swaps."
NOT_AWAITED = "The new ball does not wait until all have changed places"
WITH_ROOM = "whoever of that side has room gets it"
LAST_GATE = "Each side has its own last gate: it keeps that through a loss, and begins a bout without one."
IN_A_ZONE = "In a zone is a ball that somebody has under control over the line of that zone."
WAITING_IN_IT = (
    "Where a zone is closed to the side without the ball, the side with it may wait in there. A loose ball is still theirs: until "
    "the others have it they do not go in after it, and whoever is caught in there as it is lost comes straight out."
)
FIRST_TOUCH = "The touch that controls it is the first; a bad one that runs loose is no loss until an opponent has it or it is out."
TACKLED_FROM_INSIDE = "Those inside tackle him from inside the lines, as far as a leg reaches."
OUT_OF_REACH = "Further back than that nobody comes out after him."
POINTS_STAY = "Points stay with the side, whatever colour plays for it by then."
_IN_PLAY = ("pass", "passes", "carry", "transfer", "counter")
"""Events with the ball in play and under control."""
AT_THE_TOP = "Everybody is back at the top of the ladder as a bout begins."


def rules_of(game: Game) -> Iterator[Rule]:
    """All rules, phase by phase."""
    return (rule for phase in game.phases for rule in phase.rules)


def goes_on(game: Game, rule: Rule) -> list[str]:
    """That play goes on after a point in play: where nothing that answers to the same stops it or turns it to something else."""
    phase = next(one for one in game.phases if rule in one.rules)
    ending = [
        one
        for one in phase.rules
        if one.on == rule.on and (stops(one) or any(isinstance(do, ChangePhase) for do in one.do))
    ]
    points = any(isinstance(action, Score) for action in rule.do)
    return ["play goes on"] if rule.on in _IN_PLAY and points and not ending else []


def on_the_lines(game: Game) -> list[str]:
    """What whoever plays on the lines of an area does there, and what he does not."""
    roles = [role for role in game.roles if any(style == "edge" for style, _ in role.posts)]
    jobs = [job for phase in game.phases for job in phase.jobs if job.style == "edge"]
    if not roles and not jobs:
        return []
    places = {place for role in roles for style, place in role.posts if style == "edge"} | {job.place for job in jobs}
    areas = [area for area in game.areas if area.name in places] or list(game.areas)
    behind = sorted({area.run_off_in_play for area in areas} - {0.0})
    from_there = (
        f" He may play it from the {listed([number(one) for one in behind], 'or')} m behind it, too." if behind else ""
    )
    tackled = f" {TACKLED_FROM_INSIDE}" if all(role.tackled == "always" for role in roles) else ""
    further = f" {OUT_OF_REACH}" if tackled and behind else ""
    return [
        "Whoever plays on a line moves along it, round the corners too; he steps in only to meet a ball and goes back to it."
        f"{from_there} He does not dribble.{tackled}{further}"
    ]


def last_gate(game: Game) -> list[str]:
    """Whose last gate it is that does not count twice running, and how long it is remembered."""
    asked = [*rules_of(game), *game.counters]
    return [LAST_GATE] if any(one.other_gate for one in asked) else []


def in_zones(game: Game) -> list[str]:
    """When a ball is in a zone for a rule, and what holds for a loose one where a side has to keep out."""
    names = {zone.name for zone in game.zones}
    counts = [rule for rule in rules_of(game) if any(isinstance(action, Score) for action in rule.do)]
    lines = [IN_A_ZONE] if any(rule.to_area in names for rule in counts) else []
    return [*lines, *([WAITING_IN_IT] if any(OTHER in zone.closed_to for zone in game.zones) else [])]


def first_touch(game: Game) -> list[str]:
    """Where touches are limited: which is the first, and what a bad one is."""
    limited = any(one.touches is not None or one.ladder for one in game.roles)
    return [FIRST_TOUCH] if limited else []


def top_of_the_ladder(game: Game) -> list[str]:
    """Where there is a ladder of touches: what a new bout does to it."""
    return [AT_THE_TOP] if any(role.ladder for role in game.roles) else []


def steps_down(game: Game) -> list[str]:
    """Room for a stroke a step down the ladder, for everybody who may stand on one."""
    if not any(role.ladder for role in game.roles):
        return []
    swaps = any(isinstance(action, (Swap, Trade)) for rule in rules_of(game) for action in rule.do)
    called = spoken_of(game)
    alone = only_team(game) is not None
    names = [
        called[player.id].removeprefix("player ") if alone else called[player.id]
        for player in game.players
        if swaps or game.role(player.role).ladder
    ]
    return [f"Steps down, a stroke each, afresh each bout: {', '.join(f'{name} {STROKES}' for name in names)}"]


def whose_points(game: Game) -> list[str]:
    """Where whole teams change places between sides that are no colours: that points are a side's."""
    colours = {team.name for team in game.teams}
    moved = any(
        isinstance(action, Trade) or (isinstance(action, Swap) and unit_of(action.who) == TEAM)
        for rule in rules_of(game)
        for action in rule.do
    )
    scoring = sides_scoring(game)
    return [POINTS_STAY] if moved and len(scoring) > 1 and not colours & set(scoring) else []


def not_awaited(game: Game) -> list[str]:
    """Where a new ball comes while people change places: that it does not wait for them."""
    moving = [rule for rule in rules_of(game) if any(isinstance(action, (Swap, Trade)) for action in rule.do)]
    comes = [game.restart(action.what) for rule in moving for action in rule.do if isinstance(action, Serve)]
    room = f": {WITH_ROOM}" if all(one.source == "server" for one in comes) else ""
    return [f"{NOT_AWAITED}{room}."] if comes else []


def no_defending(game: Game) -> list[str]:
    """Where whoever loses it goes in: what becomes of one who may not."""
    return [NO_DEFENDING] if loser_swaps(game) else []


def loser_swaps(game: Game) -> bool:
    """Whether whoever loses it changes places for it."""
    return any(
        isinstance(action, Swap) and action.who.startswith("loser") for rule in rules_of(game) for action in rule.do
    )
