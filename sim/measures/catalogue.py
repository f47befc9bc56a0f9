"""Every measure of the answer: its name, unit, clock, definition, scopes, and the two sums it is the ratio of.

Scopes: "game", "team", "role", "player"; "side" means those teams and roles that are a side of their own (whose
points, thresholds and break-aways can be told apart).  Passes, turnovers, wins, transfers, shots, goals, thresholds and
points are counts of the group; everything else is a mean per player of the group over one bout, weighted with the
time in the role.  Every measure here is ``scale * sum(top) / sum(bottom)`` over sessions; the few that are not
stand in `sim.measures.summary`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sim.game.model import Action, Game
from sim.measures.scan import CAUSES
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
SIDES = ("game", "side")


def cells(column: str) -> Sum:
    return lambda sessions, group: sessions.sum(group, column)


def persons(column: str, of_role: str) -> Sum:
    """A player's own peak over all his roles; for a role the sum weighted with the time in it."""

    def total(sessions: Sessions, group: Group) -> np.ndarray:
        return sessions.sum(group, of_role) if group.people is None else sessions.sum_persons(group, column)

    return total


def total(name: str) -> Sum:
    return lambda sessions, group: sessions.total(name)


def sided(name: str) -> Sum:
    return lambda sessions, group: sessions.sided(name, group)


def turnovers(sessions: Sessions, group: Group) -> np.ndarray:
    return sessions.total("turnovers") if group.kind == "game" else sessions.sum(group, "losses")


def run_passes(sessions: Sessions, group: Group) -> np.ndarray:
    ended, cut = sessions.runs(group)
    return (ended + cut) @ np.arange(ended.shape[1])


def runs_ended(sessions: Sessions, group: Group) -> np.ndarray:
    return sessions.runs(group)[0].sum(axis=1)


def in_play(sessions: Sessions, group: Group) -> np.ndarray:
    return sessions.in_play_s


def watch(sessions: Sessions, group: Group) -> np.ndarray:
    return sessions.duration_s


def bouts(sessions: Sessions, group: Group) -> np.ndarray:
    return sessions.bouts


def possession_measures() -> list[Ratio]:
    turnover = "a turnover is any end of a side's possession, ball out and rule fault included"
    return [
        Ratio("passes_per_min", "1/min", IN_PLAY, "passes played, completed or not, of the group", EVERY,
              cells("passes"), in_play, 60, True),
        Ratio("pass_completion", "share", IN_PLAY, "passes completed / passes played; one on its way at the end of a "
              "bout is left out", EVERY, cells("completed"), cells("passes")),
        Ratio("pass_run_mean", "passes", IN_PLAY, "completed passes in one possession: all completed passes / "
              "possessions lost, so the last, unfinished possession counts with its passes", SIDES,
              run_passes, runs_ended),
        Ratio("turnovers_per_min", "1/min", IN_PLAY, f"{turnover}; of the group that loses it", GROUPS,
              turnovers, in_play, 60, True),
        Ratio("turnovers_per_clock_min", "1/min", WATCH, f"{turnover}; of the group that loses it", GROUPS,
              turnovers, watch, 60, True),
        Ratio("wins_per_min", "1/min", IN_PLAY, "turnovers made by a controlled touch of the group, confirmed as the "
              "game declares", EVERY, cells("wins"), in_play, 60, True),
        Ratio("balls_out_per_min", "1/min", IN_PLAY, "balls over the line", GAME, total("outs"), in_play, 60, True),
        *(
            Ratio("loss_share_by_cause", "share", IN_PLAY, f"cause: {cause}; share of all turnovers", GAME,
                  total("turnovers: " + cause), total("turnovers"))
            for cause in CAUSES
        ),
        Ratio("in_play_share", "share", WATCH, "time the ball is in play / time of the bout", GAME, in_play, watch),
        Ratio("losses_per_min", "1/min", IN_PLAY, "turnovers lost, mean per player of the group and minute of play in "
              "the role", EVERY, cells("losses"), cells("in_play_s"), 60, True),
    ]  # fmt: skip


def event_measures() -> list[Ratio]:
    return [
        Ratio("threshold_reached_per_min", "1/min", IN_PLAY, "counters of passes or wins that reached their number",
              SIDES, sided("thresholds"), in_play, 60, True, "thresholds"),
        Ratio("thresholds_per_bout", "1/bout", WATCH, "counters of passes or wins that reached their number", SIDES,
              sided("thresholds"), bouts, 1, True, "thresholds"),
        Ratio("transfers_per_min", "1/min", IN_PLAY, "ball controlled in another area, by the group's player", GROUPS,
              cells("transfers"), in_play, 60, True, "areas"),
        Ratio("transfer_success", "share", IN_PLAY, "passes to another area: completed / tried", GROUPS,
              cells("transfers_made"), cells("transfer_tries"), 1, False, "areas"),
        Ratio("break_aways_per_bout", "1/bout", WATCH, "turns from keeping the ball to attacking a goal", SIDES,
              sided("break_aways"), bouts, 1, True, "break"),
        Ratio("shots_per_bout", "1/bout", WATCH, "shots of the group", EVERY, cells("shots"), bouts, 1, True, "goals"),
        Ratio("goals_per_bout", "1/bout", WATCH, "goals of the group", EVERY, cells("goals"), bouts, 1, True, "goals"),
        Ratio("time_between_unlocks_s", "s", WATCH, "time of the bouts / number of times that a transfer or a shot "
              "was allowed from then on", GAME, watch, total("unlocks")),
        Ratio("points_per_min", "1/min", IN_PLAY, "points scored by the side", SIDES, sided("points"), in_play, 60,
              True, "points"),
    ]  # fmt: skip


def player_measures(limits: Thresholds) -> list[Ratio]:
    defending = (
        "ball in play, another side has it, and the player is not floating, waiting or keeping a goal"
    )
    spell = "a spell goes on through dead and loose balls until the player's side has the ball or his job changes"
    fast = f"above {limits.said('high_speed')} for at least {limits.speed_min_s:g} s"
    sprint = f"above {limits.said('sprint')} for at least {limits.speed_min_s:g} s"
    turn = (
        f"heading changed by more than {limits.turn_degrees:g} degrees within {limits.turn_s:g} s, faster than "
        f"{limits.turn_mps:g} m/s before and after, looked at ten times a second; one that lasts counts once"
    )
    sharp = f"{limits.change_mps2:g} m/s2 for at least {limits.change_min_s:g} s"
    power = "cost of running by Minetti & Pavei 2018, walking where slow, above standing still; turns, ball and duels not in it"
    part = cells("part")
    return [
        Ratio("time_defending_s", "s", IN_PLAY, f"{defending}; per player and bout", EVERY, cells("defending_s"), part),
        Ratio("defending_share", "share", IN_PLAY, f"{defending}; / in-play time in the role", EVERY,
              cells("defending_s"), cells("in_play_s")),
        Ratio("defending_spell_s", "s", IN_PLAY, f"{spell}; mean time defended in one, those cut by the end of the "
              "bout as they stand", EVERY, cells("spell_s"), cells("spells")),
        Ratio("longest_defending_spell_s", "s", IN_PLAY, f"{spell}; longest of the bout, per player", EVERY,
              persons("longest_s", "longest_part"), persons("bouts", "part")),
        Ratio("total_distance_m", "m", WATCH, "per player and bout, dead time included", EVERY, cells("distance_m"),
              part),
        Ratio("distance_per_min", "m/min", WATCH, "per player, dead time included", EVERY, cells("distance_m"),
              cells("time_s"), 60),
        Ratio("high_speed_distance_m", "m", WATCH, f"{fast}; per player and bout", EVERY, cells("high_speed_m"),
              part),
        Ratio("sprint_distance_m", "m", WATCH, f"{sprint}; per player and bout", EVERY, cells("sprint_m"), part),
        Ratio("peak_speed_kmh", "km/h", WATCH, "highest speed of the bout at any instant, per player", EVERY,
              persons("peak_kmh", "peak_part"), persons("bouts", "part")),
        Ratio("accelerations_per_min", "1/min", WATCH, f"speed growing by more than {sharp}; per player", EVERY,
              cells("accelerations"), cells("time_s"), 60, True),
        Ratio("decelerations_per_min", "1/min", WATCH, f"speed falling by more than {sharp}; per player", EVERY,
              cells("decelerations"), cells("time_s"), 60, True),
        Ratio("turns_per_min", "1/min", WATCH, f"{turn}; per player", EVERY, cells("turns"), cells("time_s"), 60, True),
        *band_measures(limits),
        Ratio("metabolic_power", "W/kg", WATCH, f"{power}; mean over the bout, per player", EVERY, cells("energy_j_kg"),
              cells("time_s")),
        Ratio("energy", "kJ/kg", WATCH, f"{power}; per player and bout", EVERY, cells("energy_j_kg"), part, 0.001),
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


def band_measures(limits: Thresholds) -> list[Ratio]:
    """Metres in each speed band; together they are the total distance."""
    bands = (("walking", "walk_m", "", "jog"), ("jogging", "jog_m", "jog", "run"), ("running", "run_m", "run", "high_speed"),
             ("high_speed_band", "high_speed_band_m", "high_speed", "sprint"),
             ("sprint_band", "sprint_band_m", "sprint", ""))  # fmt: skip
    rows = []
    for name, column, low, high in bands:
        above = f"above {limits.said(low)}" if low else ""
        below = f"up to {limits.said(high)}" if high else ""
        definition = f"{' and '.join(part for part in (above, below) if part)}, however short; per player and bout"
        rows.append(Ratio(f"{name}_distance_m", "m", WATCH, definition, EVERY, cells(column), cells("part")))
    return rows


def measures(limits: Thresholds) -> list[Ratio]:
    """All ratios in the order of the answer."""
    return [*possession_measures(), *event_measures(), *player_measures(limits)]


def actions_of(game: Game) -> list[Action]:
    return [action for phase in game.phases for rule in phase.rules for action in rule.do]


def can_happen(needs: str, game: Game) -> bool:
    """Whether the game has what a measure counts."""
    if needs == "thresholds":
        return any(rule.on in ("passes", "wins") for phase in game.phases for rule in phase.rules)
    if needs == "areas":
        return len(game.areas) > 1
    if needs == "break":
        return len(game.goals) > 0 and any(phase.aim != "goal" for phase in game.phases)
    if needs == "goals":
        return len(game.goals) > 0
    if needs == "points":
        return any(action.verb == "score" for action in actions_of(game))
    return True
