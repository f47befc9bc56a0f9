"""A game in plain words: what an assistant needs to lay it out and run it.

Every sentence is made from the resolved game, so that the words and what is played cannot part ways.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sim.game.borders import BESIDE_GOAL_M
from sim.game.family import sides_at_start
from sim.game.fouls import FOUL
from sim.game.having import settled, sides_having, without_a_goal
from sim.game.model import HOUSE_CLUB, Game, Phase, Restart, Rule
from sim.game.space import rooms
from sim.game.verbs import (
    Action,
    Assign,
    ChangePhase,
    Close,
    EndBout,
    Open,
    OpenWindow,
    Reset,
    Resize,
    Score,
    Serve,
    Step,
    Swap,
    Trade,
)
from sim.words.areas import across_once, across_too_soon, at_the_lines, between, earned_across, resized_in_words
from sim.words.asked import first_touch, goes_on, in_zones, last_gate
from sim.words.deeds import counted_anew, counters_in_words, gates_in_words, not_sought
from sim.words.fitness_tests import tests_in_words
from sim.words.fouls import fouls_in_words
from sim.words.ground_words import PICTURE, as_drawn
from sim.words.limits import endings, limits_in_words, points_at_the_start, taken_by
from sim.words.lineup import lines_of_roles, reduced, task_of
from sim.words.listing import capital, listed, number, small, some, time
from sim.words.places import another_area, areas_and_goals, played_in, within
from sim.words.playing import (
    at_the_whistle,
    charged,
    keepers_count,
    keepers_support,
    not_in_windows,
    room_at_restarts,
    stages,
    supplied,
    together,
    until_it_is_won,
)
from sim.words.points import cannot_score
from sim.words.role_changes import cut_off, down_the_ladder, in_the_window, swapped, taken, waiting
from sim.words.rule_heads import rule_head
from sim.words.screen import wrapped
from sim.words.series import bouts_in_words
from sim.words.who import WITH_THE_BALL, but_once, gainer, receiver, side_called
from sim.words.winning import won
from sim.words.without_a_rule import after_shots, over_the_line, played_on
from sim.words.zones import at_the_lines_inside, zone_closed, zone_opened, zones_in_words

Blocks = list[tuple[str, list[str]]]  # headings, and the sentences under each

AIMS = {
    "keep": "The side with the ball keeps it",
    "home": "The side with the ball takes it to its home area and keeps it there",
    "goal": "The side with the ball goes for goal",
    "gates": "The side with the ball plays through the gates",
    "passes": "The side with the ball strings passes together",
    "zones": "The side with the ball takes it where it counts",
}
FOR = {
    "keep": "only keep it",
    "home": "take it to their home area and keep it there",
    "goal": "go for goal",
    "gates": "play through the gates",
    "passes": "string passes together",
    "zones": "take it where it counts",
}
"""What one side does with the ball that aims at something else."""
_ALLOWED = {"transfer": "{they} can play across to {another}", "shoot": "shots at goal count{whose}"}
_BARRED = {"transfer": "no more playing across", "shoot": "shots at goal no longer count"}
COUNTED = {"passes": "passes", "wins": "balls won"}
_ONCE = "What {} bring comes once, and again only when the count has started afresh."
_BRINGING = {"passes": "passes in a row", "wins": "balls won"}
NO_POINTS = "No points are counted."
WHOLE_M2 = 10  # from here on nobody asks for tenths of a square metre


def allowed(game: Game, what: str, whom: str = "") -> str:
    """What may be done from now on, by everybody or by one side alone: ``shots at goal count``, ``... count for amber``."""
    if what not in _ALLOWED:
        return zone_opened(what, whom)
    whose = f" for {whom}" if whom else ""
    return _ALLOWED[what].format(they=whom or "they", another=another_area(game), whose=whose)


def _points_for(game: Game, rule: Rule, action: Score) -> str:
    """``a point for amber``."""
    points = "a point" if action.value == 1 else some(action.value, "point")
    return f"{points} for {gainer(game, rule, action.to)}"


def served(game: Game, restart: Restart, on: str) -> str:
    """How a ball comes back after an event."""
    to = receiver(game, restart.to, on)
    match restart.source:
        case "server":
            places = {"active": "in the area where it was", "home": "in their home area", "across": "in the other area"}
            place = "" if len(game.areas) == 1 else f", {places.get(restart.area) or within(game, restart.area)}"
            return f"{_after(restart)} the server plays a new ball in to {to}{place}{taken_by(restart)}"
        case "line":
            where = "went out" if on in ("out", "miss") else "was"
            later = f", {time(restart.seconds)} later, or when somebody gets there if that takes longer"  # the nearest has to run
            at_once = ", as soon as somebody gets there"
            beside = f", {number(BESIDE_GOAL_M)} m beside the post if it {where} nearer to a goal" if game.goals else ""
            return f"the ball goes to {to} where it {where}{beside}{later if restart.seconds else at_once}{taken_by(restart)}"
        case "keeper":
            return f"{_after(restart)} the keeper plays it out for {to}"
        case "own end" | "gate":
            own = f"their own end, {number(BESIDE_GOAL_M)} m beside the post"
            where = own if restart.source == "own end" else f"gate {restart.gate}"
            return f"{_after(restart)} the ball comes back at {where} for {to}{taken_by(restart)}"


def _after(restart: Restart) -> str:
    return f"after {time(restart.seconds)}" if restart.seconds else "at once"


def _opened(game: Game, rule: Rule, action: Open) -> str:
    return allowed(game, action.what, _whom(game, rule, action))


def _closed(game: Game, rule: Rule, action: Close) -> str:
    whom = _whom(game, rule, action)
    barred = _BARRED.get(action.what)
    again = " until it is earned again" if action.what == "transfer" and earned_across(game) else ""
    return zone_closed(action.what, whom) if barred is None else f"{barred}{f' for {whom}' if whom else ''}{again}"


def _whom(game: Game, rule: Rule, action: Open | Close) -> str:
    """The side to which alone something is opened or closed; "" for everybody."""
    if action.to is None:
        return ""
    whom = gainer(game, rule, action.to)
    return (
        "that side alone"
        if whom == WITH_THE_BALL and action.verb == "open"
        else whom.replace(WITH_THE_BALL, "that side")
    )


def _swapped(game: Game, rule: Rule, action: Swap) -> str:
    return swapped(game, rule, action)


def _traded(game: Game, rule: Rule, action: Trade) -> str:
    return "the two teams swap all their roles"


def _taken(game: Game, rule: Rule, action: Assign) -> str:
    return taken(game, rule, action, but_once(rule, action))


def _turned(game: Game, rule: Rule, action: ChangePhase) -> str:
    if len(game.phases) == 1:
        seconds = any(one.on == "time" for one in game.phases[0].rules)
        return f"everything that is counted starts again{', the seconds too' if seconds else ''}"
    return f'play goes {"back" if action.what == game.start_phase else "on"} to "{action.what}"'


def _served(game: Game, rule: Rule, action: Serve) -> str:
    return served(game, game.restart(action.what), rule.on)


def _window(game: Game, rule: Rule, action: OpenWindow) -> str:
    return in_the_window(action)


def _step(game: Game, rule: Rule, action: Step) -> str:
    return down_the_ladder(action)


def _resized(game: Game, rule: Rule, action: Resize) -> str:
    return resized_in_words(action)


def _counted_anew(game: Game, rule: Rule, action: Reset) -> str:
    if action.what == "steps":
        return "everybody is back at the top of the ladder of touches"
    if action.what not in COUNTED:
        return counted_anew(action.what)
    return f"the count of {COUNTED[action.what]} starts again"


def _ended(game: Game, rule: Rule, action: EndBout) -> str:
    return "the bout is over"


SAID: dict[type, Callable[[Game, Rule, Any], str]] = {
    Open: _opened,
    Close: _closed,
    Score: _points_for,
    Swap: _swapped,
    Trade: _traded,
    Assign: _taken,
    ChangePhase: _turned,
    Serve: _served,
    Reset: _counted_anew,
    EndBout: _ended,
    OpenWindow: _window,
    Step: _step,
    Resize: _resized,
}
"""The words of each consequence."""


def consequence(game: Game, rule: Rule, action: Action) -> str:
    """What follows when a rule answers, as part of a sentence."""
    return SAID[type(action)](game, rule, action)


def first_ball(game: Game) -> str:
    """Who begins with the ball."""
    where = "" if len(game.areas) == 1 else f", {within(game, game.start_area)}"
    of_each = " of every bout" if game.bouts.count > 1 else ""
    return f"The server plays the first ball{of_each} in to {side_called(game, game.start_side)}{where}."


def purpose_of(game: Game, phase: Phase) -> list[str]:
    """What the ball is for in a phase, what is allowed, what the others do meanwhile, and how passes and wins count."""
    where = played_in(game, phase.ball_in)
    each_its_own = not where and set(sides_at_start(game)) == {side for side, _ in phase.aims}
    aims = [*phase.aims, *((side, "keep") for side in without_a_goal(game, phase))]
    own = [f"{side_called(game, side)} {FOR[aim]}" for side, aim in aims]
    if each_its_own:
        lines = [f"{capital(one)}." for one in own]
    else:
        lines = [f"{AIMS[phase.aim]}{where}{f', but {listed(own)}' if own else ''}."]
    for what in phase.open:
        lines.append(f"{capital(allowed(game, what))} from the start.")
    for side, more in phase.open_for:
        lines += [f"{capital(allowed(game, what, side_called(game, side)))} from the start." for what in more]
    jobs: dict[str, list[str]] = {}
    for job in phase.jobs:
        jobs.setdefault(task_of(game, job.style, job.place), []).append(job.role)
    lines += waiting(jobs)
    lines += keepers_support(game, phase) + keepers_count(game, phase)
    counted = [words for on, words in COUNTED.items() if any(rule.on == on for rule in phase.rules)]
    if counted and len(game.phases) > 1:
        lines.append(f"{capital(listed(counted))} are counted afresh from here.")
    lines += away_from_home(game, phase)
    once = dict.fromkeys(rule.on for rule in phase.rules if rule.on in COUNTED and not rule.each)
    if once:
        lines.append(_ONCE.format(listed([_BRINGING[on] for on in once])))
    lines += across_once(phase)
    return lines


def away_from_home(game: Game, phase: Phase) -> list[str]:
    """Where the ball is brought home and passes in a row count: that they do before it is there, too."""
    counted = any(rule.on == "passes" for rule in phase.rules)
    return ["Passes in a row count away from home, too."] if counted and "home" in phase.all_aims else []


def _phase(game: Game, phase: Phase) -> list[str]:
    lines = purpose_of(game, phase)
    for do in dict.fromkeys(rule.do for rule in phase.rules):
        alike = [rule for rule in phase.rules if rule.do == do]
        said: dict[str, list[str]] = {}
        for rule in alike:  # what a side is called depends on what has happened
            follows = [consequence(game, rule, action) for action in do]
            said.setdefault("; ".join(follows + goes_on(game, rule)), []).append(rule_head(game, rule))
        for then, (first, *more) in said.items():
            lines.append(
                f"{listed([first, *dict.fromkeys(small(one) for one in more if one != first)], 'or')}: {then}."
            )
    out, after_goal = game.restart("out"), game.restart(game.after_goal)
    lines += played_on(game, phase)
    lines += over_the_line(game, phase, served(game, out, "out"))
    lines += after_shots(game, phase, served(game, after_goal, "goal"), served(game, out, "miss"))
    return lines


def _always(game: Game) -> list[str]:
    lines = [held(game), *first_touch(game), won(game)]
    lines += stages(game) + charged(game) + together(game) + fouls(game) + not_in_windows(game)
    lines += (
        until_it_is_won(game)
        + at_the_lines(game)
        + at_the_lines_inside(game)
        + in_zones(game)
        + room_at_restarts()
        + at_the_whistle(game)
        + between(game)
        + across_too_soon(game)
    )
    return lines + counters_in_words(game) + last_gate(game) + not_sought(game) + supplied(game)


def fouls(game: Game) -> list[str]:
    """How many tackles are fouls, and what follows one."""
    return fouls_in_words(game, served(game, game.restart(FOUL), FOUL)) if game.foul_share else []


def held(game: Game) -> str:
    """What becomes of a ball that was held too long, or touched too often where touches are limited."""
    limited = any(one.touches is not None or one.ladder for one in game.roles)
    often = " or takes a touch too many" if limited else ""
    return f"Nobody holds the ball longer than {time(game.hold_limit_s)}{often}: {too_long(game)}."


def too_long(game: Game) -> str:
    """What becomes of a ball that was held too long."""
    ruled = [settled(phase, "loss", side, "time limit") for phase in game.phases for side in sides_having(game)]
    after = served(game, game.restart("out"), "loss")
    if all(ruled):
        return "then it is lost"
    return f"then it is lost, and {'where no rule gives a new ball ' if any(ruled) else ''}{after}"


def _points(game: Game) -> str:
    said = [
        f"{_points_for(game, rule, action)} ({small(rule_head(game, rule))})"
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
        if isinstance(action, Score)
    ]
    ways = list(dict.fromkeys(said))  # two phases may give the same points for the same thing
    return " ".join(f"{capital(said)}." for said in (listed(ways), *cannot_score(game))) if ways else NO_POINTS


def _rooms(game: Game) -> list[str]:
    lines = []
    for room in rooms(game):
        apart = []
        if room.outside_floaters:
            apart.append(some(len(room.outside_floaters), "floater") + " on the lines")
        if room.keepers:
            apart.append(some(len(room.keepers), "keeper"))
        rest = f"; not counted: {listed(apart)}" if apart else ""
        each = f"{room.per_player_m2:.0f}" if room.per_player_m2 >= WHOLE_M2 else number(room.per_player_m2)
        lines.append(f"{each} m2 each {within(game, room.area)} ({len(room.counted)} players{rest}).")
    return lines


def titled(game: Game) -> str:
    """What the game is called, and whose it is where the file says so."""
    return game.title if game.club == HOUSE_CLUB else f"{game.title} ({game.club})"


def blocks(game: Game) -> Blocks:
    """The whole game as sentences under headings."""
    found: Blocks = [
        (titled(game), [game.purpose]),
        ("Set-up", areas_and_goals(game) + zones_in_words(game) + gates_in_words(game) + lines_of_roles(game)),
        ("On reduced load", reduced(game)),
        ("Limits", limits_in_words(game)),
        ("Known from tests", tests_in_words(game)),
    ]
    for phase in game.phases:
        heading = "Play" if len(game.phases) == 1 else f"Play: {phase.name}"
        first = [first_ball(game)] if phase.name == game.start_phase else []
        found.append((heading, first + _phase(game, phase)))
    found += [
        ("Always", _always(game)),
        ("Points", [_points(game)]),
        ("Bouts", [*bouts_in_words(game), *points_at_the_start(game), *endings(game), *cut_off(game)]),
    ]
    found.append(("Area per player", _rooms(game)))
    return drawn(game, [(heading, list(dict.fromkeys(lines))) for heading, lines in found if lines])


def drawn(game: Game, told: Blocks) -> Blocks:
    """The sentences in words of the ground, and, where that makes a difference, what those are in the file; the title as it is."""
    tell = as_drawn(game)
    (title, purpose), (set_up, laid), *more = [
        (heading if k == 0 else tell(heading), [tell(line) for line in lines])
        for k, (heading, lines) in enumerate(told)
    ]
    found = [(title, purpose), (set_up, laid), *more]
    return told if found == told else [(title, purpose), (set_up, [*laid, PICTURE]), *more]


def rules_in_words(game: Game) -> str:
    """The whole game as it is printed: sentences under headings, in lines of a screen."""
    return "\n\n".join(
        "\n".join([*wrapped(heading), *(part for line in lines for part in wrapped(line, "  "))])
        for heading, lines in blocks(game)
    )
