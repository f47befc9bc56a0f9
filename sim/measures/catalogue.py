"""Every measure of the answer: its name, unit, clock, definition, scopes, and the two sums it is the ratio of.

Scopes: "game", "team", "role", "player"; "side" means those teams and roles that are a side of their own (whose
points, thresholds and break-aways can be told apart).  Passes, turnovers, balls lost, wins, transfers, shots, goals,
thresholds and points are counts of the group; everything else is a mean per player.  Of a role there are figures per minute
in it, and totals of what its players did in it in a bout, never as if they had it for the whole of one.  A bout is as long as
it was played.  Every measure here is ``scale * sum(top) / sum(bottom)`` over sessions; the few that are not
stand in `sim.measures.summary`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sim.errors import given
from sim.game.model import Game
from sim.game.verbs import TEAM, Action, Swap, unit_of
from sim.measures.asked import ASKED, REACHING
from sim.measures.event_reducer import CAUSES, COLOUR_POINTS, SHOT
from sim.measures.runs import medians, with_runs
from sim.measures.sessions import Group, Sessions
from sim.measures.thresholds import Thresholds

IN_PLAY, WATCH = "in play", "watch"
Sum = Callable[[Sessions, Group], np.ndarray]


@dataclass(frozen=True)
class Ratio:
    """One measure.  `counts`: the top counts rare events, so nought has an upper bound; `needs`: what it hangs on."""

    measure: str
    unit: str
    clock: str
    definition: str
    scopes: tuple[str, ...]
    top: Sum
    bottom: Sum
    scale: float = 1.0
    counts: bool = False
    needs: str = ""


EVERY = ("game", "team", "role", "player")
GROUPS = ("game", "team", "role")
GAME = ("game",)
PEOPLE = ("game", "team", "player")
ROLES = ("role",)
EACH = "per player and bout; for a role what he does in it, per player and bout in which he has it"
SESSION = "per player and session, all bouts together"
PLAYED = "; a bout as long as it was played"
MINUTE = "per player and minute; for a role per minute in it"
SIDES = ("game", "side")


def cells(column: str) -> Sum:
    """Sum of a column of the cells of the group."""
    return lambda sessions, group: sessions.sum(group, column)


def persons(column: str, of_role: str) -> Sum:
    """A player's own peak over all his roles; for a role the sum weighted with the time in it."""

    def total(sessions: Sessions, group: Group) -> np.ndarray:
        return sessions.sum(group, of_role) if group.people is None else sessions.sum_persons(group, column)

    return total


def total(name: str) -> Sum:
    """A count of the whole game."""
    return lambda sessions, group: sessions.total(name)


def sided(name: str) -> Sum:
    """A count of the sides of the group."""
    return lambda sessions, group: sessions.sided(name, group)


def of_colour(sessions: Sessions, group: Group) -> np.ndarray:
    """Points of whichever side the team played for."""
    team = group.scope.removeprefix("team:")
    return np.array([float(one.by_side[COLOUR_POINTS, team]) for one in sessions.counts])


def turnovers(sessions: Sessions, group: Group) -> np.ndarray:
    """Possessions lost, those of the whole game or of the group."""
    return sessions.total("turnovers") if group.kind == "game" else sessions.sum(group, "losses")


def shot_ends(sessions: Sessions, group: Group) -> np.ndarray:
    """Possessions that ended with a shot, of the whole game or of the group."""
    return sessions.total("turnovers: " + SHOT) if group.kind == "game" else sessions.sum(group, "shot_ends")


def balls_lost(sessions: Sessions, group: Group) -> np.ndarray:
    """Possessions lost but by a shot."""
    return turnovers(sessions, group) - shot_ends(sessions, group)


def lost_by_players(sessions: Sessions, group: Group) -> np.ndarray:
    """Balls lost by the players of the group, those by a shot left out."""
    return sessions.sum(group, "losses") - sessions.sum(group, "shot_ends")


def run_passes(sessions: Sessions, group: Group) -> np.ndarray:
    """Completed passes in all pass runs of the group's sides."""
    counts = sessions.runs(group)
    return counts @ np.arange(counts.shape[1])


def runs_lost(sessions: Sessions, group: Group) -> np.ndarray:
    """Pass runs of the group's sides that ended with a loss."""
    return sessions.runs(group, lost=True).sum(axis=1)


def in_play(sessions: Sessions, group: Group) -> np.ndarray:
    """Seconds in play."""
    return sessions.in_play_s


def watch(sessions: Sessions, group: Group) -> np.ndarray:
    """Seconds on the watch."""
    return sessions.duration_s


def bouts(sessions: Sessions, group: Group) -> np.ndarray:
    """Bouts played."""
    return sessions.bouts


def player_bouts(sessions: Sessions, group: Group) -> np.ndarray:
    """Players x bouts; of a role those in which they had it at all."""
    return sessions.sum(group, "held" if group.kind == "role" else "part")


def people(sessions: Sessions, group: Group) -> np.ndarray:
    """The players of a group, in each session."""
    return np.full(sessions.n, float(given(group.people).sum()))


CHARGED = (
    "charged to the last player to touch the ball for the side that loses it: before the touch that won it (also where the win "
    "counts only later), before it went out or had been held too long"
)


def possession_measures() -> list[Ratio]:
    """Measures of who has the ball, how long and how it is lost."""
    turnover = "a turnover is any end of a side's possession, ball out, rule fault and shot included"
    loss = "a ball lost is any end of a side's possession but by a shot: ball out and rule fault included"
    run = (
        "the completed passes of one possession; every run counts, as it stands when a loss, a rule, a restart of another "
        "side or the whistle ends it"
    )
    return [
        Ratio("passes_per_min", "1/min", IN_PLAY, "passes played, completed or not, of the group", EVERY,
              cells("passes"), in_play, 60, True),
        Ratio("pass_completion", "share", IN_PLAY, "passes completed / passes played; one on its way at the end of a "
              "bout is left out", EVERY, cells("completed"), cells("passes")),
        Ratio("pass_run_median", "passes", IN_PLAY, f"{run}; the middle run of a session, mean over sessions", SIDES,
              medians, with_runs),
        Ratio("pass_run_share_reaching", "share", IN_PLAY, f"{run}; share of runs that reach the lowest number of passes "
              "for which the game has a rule, of the sides it asks", SIDES, sided(REACHING), sided(ASKED), 1, True,
              "passes"),
        Ratio("pass_run_mean", "passes", IN_PLAY, "corrected for runs that the whistle or a rule cuts short, not what is "
              "counted on the grass: all completed passes / possessions lost", SIDES, run_passes, runs_lost),
        Ratio("turnovers_per_min", "1/min", IN_PLAY, f"{turnover}; of the group that loses it", GROUPS,
              turnovers, in_play, 60, True),
        Ratio("turnovers_per_clock_min", "1/min", WATCH, f"{turnover}; of the group that loses it", GROUPS,
              turnovers, watch, 60, True),
        Ratio("balls_lost_per_min", "1/min", IN_PLAY, f"{loss}; of the group that loses it", GROUPS, balls_lost, in_play,
              60, True),
        Ratio("shot_ends_per_min", "1/min", IN_PLAY, "possessions that end with a shot, of the group that shoots", GROUPS,
              shot_ends, in_play, 60, True, "goals"),
        Ratio("wins_per_min", "1/min", IN_PLAY, "turnovers made by a controlled touch of the group, confirmed as the "
              "game declares", EVERY, cells("wins"), in_play, 60, True),
        Ratio("balls_out_per_min", "1/min", IN_PLAY, "balls over the line", GAME, total("outs"), in_play, 60, True),
        *(
            Ratio("loss_share_by_cause", "share", IN_PLAY, f"cause: {cause}; share of all balls lost", GAME,
                  total("turnovers: " + cause), balls_lost)
            for cause in CAUSES
            if cause != SHOT
        ),
        Ratio("in_play_share", "share", WATCH, "time the ball is in play / time of the bout", GAME, in_play, watch),
        Ratio("bout_length_s", "s", WATCH, "mean length of a bout as it was played", GAME, watch, bouts),
        Ratio("losses_per_min", "1/min", IN_PLAY, f"{loss}; mean per player of the group and minute of play in the role; "
              f"{CHARGED}", EVERY, lost_by_players, cells("in_play_s"), 60, True),
    ]  # fmt: skip


def event_measures() -> list[Ratio]:
    """Measures of thresholds, transfers, shots, goals and points."""
    return [
        Ratio("threshold_reached_per_min", "1/min", IN_PLAY, "counters of passes or wins that reached their number",
              SIDES, sided("thresholds"), in_play, 60, True, "thresholds"),
        Ratio("thresholds_per_bout", "1/bout", WATCH, f"counters of passes or wins that reached their number{PLAYED}",
              SIDES, sided("thresholds"), bouts, 1, True, "thresholds"),
        Ratio("transfers_per_min", "1/min", IN_PLAY, "passes to another area, controlled there by a player of the side that "
              "played them, by that player's group", GROUPS,
              cells("transfers"), in_play, 60, True, "areas"),
        Ratio("transfer_success", "share", IN_PLAY, "passes to another area: completed / tried", GROUPS,
              cells("transfers_made"), cells("transfer_tries"), 1, False, "areas"),
        Ratio("break_aways_per_bout", "1/bout", WATCH, f"turns from keeping the ball to attacking a goal{PLAYED}", SIDES,
              sided("break_aways"), bouts, 1, True, "break"),
        Ratio("shots_per_bout", "1/bout", WATCH, f"shots of the group{PLAYED}", EVERY, cells("shots"), bouts, 1, True,
              "goals"),
        Ratio("goals_per_bout", "1/bout", WATCH, f"goals of the group{PLAYED}", EVERY, cells("goals"), bouts, 1, True,
              "goals"),
        Ratio("time_between_unlocks_s", "s", WATCH, "time of the bouts / number of times that a transfer or a shot "
              "was allowed from then on", GAME, watch, total("unlocks")),
        Ratio("points_per_min", "1/min", IN_PLAY, "points scored by the side", SIDES, sided("points"), in_play, 60,
              True, "points"),
        Ratio("points_per_bout", "1/bout", WATCH, "points scored by the side" + PLAYED, SIDES, sided("points"), bouts, 1, True,
              "points"),
        Ratio("colour_points_per_bout", "1/bout", WATCH, "points of whichever side the team was on" + PLAYED,
              ("team",), of_colour, bouts, 1, True, "colours"),
    ]  # fmt: skip


def player_measures(limits: Thresholds) -> list[Ratio]:
    """Measures of what a player does: defending, running, touches; `limits` are what counts as fast and sharp."""
    defending = "ball in play, another side has it, and the player is not floating, waiting or keeping a goal"
    spell = "a spell goes on through dead and loose balls until the player's side has the ball or his job changes"
    fast = f"above {limits.start_in_words('high_speed')} for at least {limits.speed_min_s:g} s"
    sprint = f"above {limits.start_in_words('sprint')} for at least {limits.speed_min_s:g} s"
    turn = (
        f"heading changed by more than {limits.turn_degrees:g} degrees within {limits.turn_s:g} s, faster than "
        f"{limits.turn_mps:g} m/s before and after, looked at ten times a second; one that lasts counts once"
    )
    sharp = f"{limits.change_mps2:g} m/s2 for at least {limits.change_min_s:g} s"
    power = "cost of running by Minetti & Pavei 2018, walking where slow, above standing still; turns, ball and duels not in it"
    return [
        Ratio("time_in_role_s", "s", WATCH, "seconds of a bout in the role, per player and bout in which he has it", ROLES,
              cells("time_s"), player_bouts),
        Ratio("time_defending_s", "s", IN_PLAY, f"{defending}; {EACH}", EVERY, cells("defending_s"), player_bouts),
        Ratio("session_time_defending_s", "s", IN_PLAY, f"{defending}; {SESSION}", PEOPLE, cells("defending_s"), people),
        Ratio("defending_share", "share", IN_PLAY, f"{defending}; / in-play time in the role", EVERY,
              cells("defending_s"), cells("in_play_s")),
        Ratio("defending_spell_s", "s", IN_PLAY, f"{spell}; mean time defended in one, those cut by the end of the "
              "bout as they stand", EVERY, cells("spell_s"), cells("spells")),
        Ratio("longest_defending_spell_s", "s", IN_PLAY, f"{spell}; longest of the bout, per player", EVERY,
              persons("longest_s", "longest_part"), persons("bouts", "part")),
        Ratio("total_distance_m", "m", WATCH, f"dead time included; {EACH}", EVERY, cells("distance_m"), player_bouts),
        Ratio("session_distance_m", "m", WATCH, f"dead time included, rests not; {SESSION}", PEOPLE, cells("distance_m"),
              people),
        Ratio("distance_per_min", "m/min", WATCH, f"dead time included; {MINUTE}", EVERY, cells("distance_m"),
              cells("time_s"), 60),
        *fast_measures("high_speed", fast),
        *fast_measures("sprint", sprint),
        Ratio("peak_speed_kmh", "km/h", WATCH, "highest speed of the bout at any instant, per player", EVERY,
              persons("peak_kmh", "peak_part"), persons("bouts", "part")),
        Ratio("accelerations_per_min", "1/min", WATCH, f"speed growing by more than {sharp}; per player", EVERY,
              cells("accelerations"), cells("time_s"), 60, True),
        Ratio("decelerations_per_min", "1/min", WATCH, f"speed falling by more than {sharp}; per player", EVERY,
              cells("decelerations"), cells("time_s"), 60, True),
        Ratio("turns_per_min", "1/min", WATCH, f"{turn}; per player", EVERY, cells("turns"), cells("time_s"), 60, True),
        *zone_measures(limits),
        Ratio("metabolic_power", "W/kg", WATCH, f"{power}; mean over the bout, per player", EVERY, cells("energy_j_kg"),
              cells("time_s")),
        Ratio("energy", "kJ/kg", WATCH, f"{power}; {EACH}", EVERY, cells("energy_j_kg"), player_bouts, 0.001),
        Ratio("lowest_reserve", "share", WATCH, "lowest share of the hard-running reserve in a bout, per player; for a role "
              "that of whoever had it, weighted by time", EVERY, persons("lowest", "lowest_part"),
              persons("known", "known_part")),
        Ratio("touches_per_min", "1/min", IN_PLAY, "contacts with the ball, per player", EVERY, cells("touches"),
              cells("in_play_s"), 60, True),
        Ratio("touches_per_release", "touches", IN_PLAY, "touches / passes played", EVERY, cells("touches"),
              cells("passes")),
        Ratio("time_on_ball_s", "s", IN_PLAY, "first touch to release, mean over passes played; 0 for a first-time "
              "pass; times that end with a loss left out", EVERY, cells("on_ball_s"), cells("timed_releases")),
    ]  # fmt: skip


def fast_measures(name: str, definition: str) -> list[Ratio]:
    """Metres of fast runs: in a bout, in a session, by the minute."""
    metres = cells(f"{name}_m")
    return [
        Ratio(f"{name}_distance_m", "m", WATCH, f"{definition}; {EACH}", EVERY, metres, player_bouts),
        Ratio(f"session_{name}_distance_m", "m", WATCH, f"{definition}; {SESSION}", PEOPLE, metres, people),
        Ratio(
            f"{name}_distance_per_min", "m/min", WATCH, f"{definition}; {MINUTE}", EVERY, metres, cells("time_s"), 60
        ),
    ]


def zone_measures(limits: Thresholds) -> list[Ratio]:
    """Metres in each speed zone, in a bout and by the minute; together they are the total distance."""
    bands = (("walking", "walk_m", "", "jog"), ("jogging", "jog_m", "jog", "run"), ("running", "run_m", "run", "high_speed"),
             ("high_speed_band", "high_speed_band_m", "high_speed", "sprint"),
             ("sprint_band", "sprint_band_m", "sprint", ""))  # fmt: skip
    rows = []
    for name, column, low, high in bands:
        above = f"above {limits.start_in_words(low)}" if low else ""
        below = f"up to {limits.start_in_words(high)}" if high else ""
        said = f"{' and '.join(part for part in (above, below) if part)}, however short"
        rows.append(Ratio(f"{name}_distance_m", "m", WATCH, f"{said}; {EACH}", EVERY, cells(column), player_bouts))
        rows.append(Ratio(f"{name}_distance_per_min", "m/min", WATCH, f"{said}; {MINUTE}", EVERY, cells(column),
                          cells("time_s"), 60))  # fmt: skip
    return rows


def measures(limits: Thresholds) -> list[Ratio]:
    """All ratios in the order of the answer."""
    return [*possession_measures(), *event_measures(), *player_measures(limits)]


def actions_of(game: Game) -> list[Action]:
    """Every consequence of every rule of a game, in the order of the file."""
    return [action for phase in game.phases for rule in phase.rules for action in rule.do]


def can_happen(needs: str, game: Game) -> bool:
    """Whether the game has what a measure counts."""
    if needs == "thresholds":
        return any(rule.on in ("passes", "wins") for phase in game.phases for rule in phase.rules)
    if needs == "passes":
        return any(rule.on == "passes" for phase in game.phases for rule in phase.rules)
    if needs == "areas":
        return len(game.areas) > 1
    if needs == "break":
        return len(game.goals) > 0 and any(phase.aim != "goal" for phase in game.phases)
    if needs == "goals":
        return len(game.goals) > 0
    if needs == "colours":
        swaps = [action for action in actions_of(game) if isinstance(action, Swap) and unit_of(action.who) == TEAM]
        return can_happen("points", game) and bool(swaps or game.bouts.stays)
    if needs == "points":
        return any(action.verb == "score" for action in actions_of(game))
    return True
