"""One pass over the events of a bout: everything the tables and the tally need, read once.

Counts of the game (`totals`), of sides (`by_side`: points, thresholds, break-aways, unlocks), of thresholds one by
one (`reached`) and of rules (`fired`) are plain dictionaries; a key that is missing has not happened.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sim.game.model import Game
from sim.measures.ball_events import LOSSES, OUTS, SHOT_ENDS, TRANSFERS, WINS, BallEvents
from sim.measures.exposure import FLOATING, Exposure
from sim.measures.possession import Possessions
from sim.pitch.log import BoutLog

SHOT = "shot"  # the end of a possession that is no loss to a coach
CAUSES = ("interception", "tackle", "miscontrol", "misplaced", "out", "time limit", "rule fault", SHOT)

GOES_ON = (
    "out",
    "end",
)  # dead balls after which the same side's passes are counted on: out, and the whistle, seen to below


@dataclass(frozen=True)
class ReducedEvents:
    """What one bout held."""

    exposure: Exposure
    possessions: Possessions
    ball_events: BallEvents
    totals: Counter  # "turnovers", "turnovers: CAUSE", "wins", "outs", "thresholds", "unlocks", "transfers", ...
    by_side: Counter  # (what, side) -> count or points
    reached: Counter  # (counter, count, side) -> times
    fired: Counter  # (phase, rule) -> times


def jobs_of(game: Game) -> dict[tuple[str, str, str], tuple[str, str]]:
    """(phase, team, role) -> (style, area or "active"); a phase's jobs go before the role's own style and place."""
    found = {}
    for phase in game.phases:
        jobs = {job.role: (job.style, job.place) for job in phase.jobs}
        for role in game.roles:
            style, place = jobs.get(role.name, (role.style, role.place))
            for team in game.teams:
                found[phase.name, team.name, role.name] = style, (team.home or "") if place == "home" else place
    return found


def scan(game: Game, log: BoutLog) -> ReducedEvents:
    """Read a bout's events in order."""
    number = {player: i for i, player in enumerate(log.players)}
    role_number = {role: i for i, role in enumerate(log.roles)}
    exposure = Exposure(len(log.players), len(log.roles))
    possessions, ball_events = Possessions(), BallEvents(len(log.players), len(log.roles))
    totals, by_side, reached, fired = Counter(), Counter(), Counter(), Counter()
    counts, roles = ball_events.counts, exposure.role
    jobs, where = jobs_of(game), ("", "")

    def cell(player: str) -> list[float]:
        i = number[player]
        return counts[i][roles[i]]

    for t, _, kind, player, other, side, cause, detail, value, _, _, phase, area, _ in log.events:
        if (phase, area) != where:
            where = (phase, area)
            now = [
                jobs[phase, team, log.roles[role]] if role >= 0 else ("wait", "active")
                for team, role in zip(log.teams, roles, strict=True)
            ]
            exposure.move(area, now, t)
        if kind == "touch":
            ball_events.touch(player, cell(player), t)
        elif kind == "release":
            ball_events.release(player, cell(player), t, detail)
        elif kind == "receive":
            ball_events.receive(player, cell(other), t)
            if exposure.side[number[player]] in (side, FLOATING):  # not while a win waits to be confirmed
                possessions.complete(side, t, exposure.in_play(t))
        elif kind == "job":
            i = number[player]
            exposure.job(i, role_number[cause], side, detail, jobs[phase, log.teams[i], cause][1], t)
        elif kind == "possession":
            exposure.control(side, t)
            possessions.control(side, t, exposure.in_play(t))
            ball_events.control(player, t)
        elif kind == "loss":
            exposure.lose(side, t)
            possessions.lose(side, t, exposure.in_play(t), cause)
            totals["turnovers"] += 1
            totals["turnovers: " + cause] += 1
            by_side["turnovers", side] += 1
            if player:
                cell(player)[LOSSES] += 1
                cell(player)[SHOT_ENDS] += cause == SHOT
            ball_events.stop()
        elif kind == "win":
            totals["wins"] += 1
            cell(player)[WINS] += 1
        elif kind == "out":
            totals["outs"] += 1
            if player:
                cell(player)[OUTS] += 1
        elif kind == "live":
            if side != possessions.side:
                possessions.close(t, exposure.in_play(t), "")
            exposure.serve(side, t)
        elif kind == "dead":
            exposure.stop(t)
            if cause not in GOES_ON:
                possessions.close(t, exposure.in_play(t), "")
            if cause != "end":
                ball_events.stop()
        elif kind == "shot":
            totals["shots"] += 1
            ball_events.shot(cell(player))
        elif kind == "goal":
            totals["goals"] += 1
            ball_events.goal()
        elif kind == "transfer":
            totals["transfers"] += 1
            cell(player)[TRANSFERS] += 1
        elif kind == "rule":
            fired[detail, cause] += 1
        elif kind == "threshold":
            totals["thresholds"] += 1
            by_side["thresholds", side] += 1
            reached[cause, value, side] += 1
        elif kind == "break":
            totals["break_aways"] += 1
            by_side["break_aways", side] += 1
        elif kind == "score":
            totals["points"] += value
            by_side["points", side] += value
        elif kind == "unlock":
            totals["unlocks"] += 1
    exposure.finish(log.duration_s)
    possessions.close(log.duration_s, exposure.clock, "")
    ball_events.finish()
    return ReducedEvents(exposure, possessions, ball_events, totals, by_side, reached, fired)
