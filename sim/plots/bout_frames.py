"""Tidy frames of one game: who defends how much, metres by role and speed, pass runs, and one bout as a strip of time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sim.experiments.cautions import SHORT_LINE_M, longest_line
from sim.experiments.pass_run_survival import pass_run_survival_of, sides_of
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.measures.asked import asked_of
from sim.measures.event_reducer import SHOT, reduce_events
from sim.measures.session_counts import SessionCounts
from sim.pitch.log import BoutLog
from sim.plots.frames import in_percent
from sim.results import Measure, Result
from sim.speed_zones import minors_of
from sim.words import picture_labels as labels
from sim.words.ground_words import as_drawn
from sim.words.strip import spells

if TYPE_CHECKING:
    import pandas as pd

FIGURES = ("mean", "low", "high", "session_low", "session_high")
SHARES = (*FIGURES, "fair")
ENDS = ("defending_share_most", "defending_share_least")
ZONES = (
    ("walking_distance_per_min", "walking", "", "jog"),
    ("jogging_distance_per_min", "jogging", "jog", "run"),
    ("running_distance_per_min", "running", "run", "high_speed"),
    ("high_speed_band_distance_per_min", "fast", "high_speed", "sprint"),
    ("sprint_band_distance_per_min", "sprinting", "sprint", ""),
)


def figures_of(row: Measure) -> dict[str, float]:
    """The figures of a row; a range from few sessions ends where the measure itself does."""
    found = {name: float("nan") if getattr(row, name) is None else getattr(row, name) for name in FIGURES}
    found["low"] = max(found["low"], 0.0)
    if row.unit == "share":
        found["high"] = min(found["high"], 1.0)
    return found


def of_exposure(result: Result, game: Game) -> pd.DataFrame:
    """For `exposure`: a row a player who ever defends, then whoever defended most and least in a session.

    `fair` is the even share: what each would have if all of these players shared the defending.  Adults stand in order of
    what they do in the long run, minors in order of team and number: they are not ranked.
    """
    import pandas as pd

    shares = {row.scope: row for row in result.rows("defending_share")}
    names = spoken_of(game)
    found = []
    for player in sorted(game.players, key=lambda one: (one.team, one.number)):
        row = shares.get(f"player:{player.id}")
        if row is not None and row.mean:
            found.append((names[player.id], figures_of(row)))
    if not minors_of([team.population for team in game.teams]):
        found.sort(key=lambda one: -one[1]["mean"])
    fair = sum(figures["mean"] for _, figures in found) / len(found) if found else float("nan")
    rows: list[dict[str, object]] = [{"who": name, "kind": "player", **figures} for name, figures in found]
    for measure, name, kind in zip(ENDS, (labels.MOST, labels.LEAST), ("most", "least"), strict=True):
        rows.append({"who": name, "kind": kind, **figures_of(result.row(measure))})
    about = {"measure": "defending_share", "scope": "game", "unit": "share", "clock": "in play"}
    return in_percent(pd.DataFrame(rows).assign(fair=fair, **about), SHARES)


def of_speed_zones(result: Result, game: Game) -> pd.DataFrame:
    """For `speed_zones`: a row a role and speed band, metres per player and minute in the role.

    `total` is that of the role in all bands, `held` the seconds of a bout that whoever has the role has it.  Bands above high
    speed are left out where the areas are too short for them.
    """
    import pandas as pd

    limits = result.provenance.thresholds
    short = longest_line(game) < SHORT_LINE_M
    rows = []
    for order, (measure, name, low, high) in enumerate(ZONES):
        if short and low in ("high_speed", "sprint"):
            continue
        from_, to = limits.start_in_words(low) if low else "", limits.start_in_words(high) if high else ""
        for role in game.roles:
            row = result.row(measure, f"role:{role.name}")
            if row.mean is not None:
                total, held = (result.row(one, row.scope).mean for one in ("distance_per_min", "time_in_role_s"))
                band = {"role": role.name, "order": order, "band": name, "from": from_, "to": to}
                band |= {"total": total, "held": held}
                rows.append(band | figures_of(row) | {"unit": row.unit, "clock": row.clock})
    return pd.DataFrame(rows)


def of_runs(sessions: Sequence[SessionCounts], game: Game) -> pd.DataFrame:
    """For `runs`: a row a side and number of passes, with the share of its possessions that have at least so many.

    `asked` is the number of passes the game asks of the side, missing where it asks none.  Sides that never complete a pass are
    left out.
    """
    import pandas as pd

    found = pass_run_survival_of(sessions, sides_of(sessions, game.start_side))
    passing = {one.side for one in found if one.passes > 0}
    rows = [
        {
            "side": one.side,
            "passes": one.passes,
            "share": one.share,
            "low": float("nan") if one.low is None else one.low,
            "high": float("nan") if one.high is None else one.high,
            "asked": asked_of(game, one.side),
        }
        for one in found
        if one.side in passing
    ]
    columns = ["side", "passes", "share", "low", "high", "asked"]
    return in_percent(
        pd.DataFrame(rows, columns=columns).assign(unit="share", clock="in play"), ("share", "low", "high")
    )


def of_bout(game: Game, log: BoutLog) -> pd.DataFrame:
    """For `strip`: a row a stretch or moment of one bout, seconds on the watch.

    `what`: "has the ball" (a side), "defends" or "does not defend" (a player), "out of play" (nobody), or the name of a moment,
    whose end is its start; points for a goal are told by the goal.
    """
    import pandas as pd

    rows: list[tuple[str, str, float, float]] = []
    for spell in spells(log):
        if spell.state == "dead":
            rows.append(("", labels.DEAD, spell.start_s, spell.end_s))
        elif spell.state == "held":
            rows.append((spell.side, labels.BALL, spell.start_s, spell.end_s))
    moments = [(event[0], moment_of(event[2], event[6]), event[5]) for event in log.events]
    goals = {(t, side) for t, kind, side in moments if kind == "goal"}
    for t, kind, side in moments:
        if kind in labels.MOMENTS and not (kind == "score" and (t, side) in goals):
            rows.append((side, labels.MOMENTS[kind], t, t))
    people, names = {player.id: player for player in game.players}, spoken_of(game)
    order = sorted(range(len(log.players)), key=lambda i: (log.teams[i], people[log.players[i]].number))
    found = reduce_events(game, log).exposure.spells
    for i in order:
        own = [one for one in found if one.player == i]
        name = names[log.players[i]]
        rows += [(name, labels.DEFENDS, one.start_s, one.end_s) for one in own] or [(name, labels.IDLE, 0.0, 0.0)]
    tell = as_drawn(game)
    frame = pd.DataFrame([(tell(row), *rest) for row, *rest in rows], columns=["row", "what", "start_s", "end_s"])
    return frame.assign(bout_s=log.duration_s)


def moment_of(kind: str, cause: str) -> str:
    """What is marked: a possession that ends with a shot is no loss."""
    return "by shot" if kind == "loss" and cause == SHOT else kind
