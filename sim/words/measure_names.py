"""What every measure is called: one record a measure, from which sentences, tables and pictures take their form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sim.experiments.key_measures import LOST, MOST, OF_ROLES
from sim.words.clocks import ROLLING, WATCH

TURNOVERS, BY_WATCH = "turnovers_per_min", "turnovers_per_clock_min"
ENDINGS = ("_per_clock_min", "_per_min", "_per_bout", "_kmh", "_m", "_s")
"""Units in the names of measures."""


@dataclass(frozen=True)
class Wording:
    """How one measure is said.  What is empty follows from the rest, or is not said of this measure.

    noun           what there is more or less of; `less`: the word for less of it
    per, clock     what its rate is counted against: "minute" or "bout", and on which clock
    happens        how a count happens: {times}, or {n} of them
    holds          the same of what is no count: {v}, of {who}
    beside_figure  what the noun is called right behind a figure
    unit           all that stands behind a figure, where it is no plain rate
    column         its head in a table: {noun}; `row`: its name before its rate in one
    instead        what becomes of it with a change, alone: {} and, before, {}
    aside          the same behind the change: {now}, {before}, {rate}, {who}
    pictured       its name on an axis
    of             what follows a figure in per cent over a picture: {clock}
    shots_too      where shots are told apart, they are counted in
    whole          nobody counts it in parts
    """

    noun: str
    less: str = "fewer"
    per: str = ""
    clock: str = ROLLING
    happens: str = ""
    holds: str = ""
    beside_figure: str = ""
    unit: str = ""
    column: str = ""
    row: str = ""
    instead: str = ""
    aside: str = ""
    pictured: str = ""
    of: str = ""
    shots_too: bool = False
    whole: bool = False

    def named(self, shots: bool) -> str:
        """``losses``; with `shots` ``losses and shots``, where this measure counts them in."""
        return self.noun + (" and shots" if shots and self.shots_too else "")

    def rate(self, shots: bool) -> str:
        """``losses a minute``."""
        return f"{self.beside_figure or self.named(shots)} a {self.per}"

    def behind_figure(self, shots: bool) -> str:
        """``losses a minute with the ball rolling``, ``% of passes arriving``."""
        return self.unit or f"{self.rate(shots)} {self.clock}"

    def row_head(self, shots: bool) -> str:
        """Its name before its rate in a table: ``losses a minute``."""
        return self.row or self.rate(shots)

    def head(self, shots: bool) -> str:
        """Its name over a column, or at the head of a row: ``losses/min``, ``passes that arrive, %``."""
        usual = {"minute": "{noun}/min", "bout": "{noun}/bout"}.get(self.per, "{noun}, %")
        return (self.column or usual).format(noun=self.beside_figure or self.named(shots))


LOSE = "they lose it {times}"
LOSE_ASIDE = "they lose it {now} times {rate}, not {before}"

MEASURES: Mapping[str, Wording] = MappingProxyType(
    {
        TURNOVERS: Wording("losses", per="minute", happens=LOSE, aside=LOSE_ASIDE, shots_too=True),
        BY_WATCH: Wording(
            "losses",
            per="minute",
            clock=WATCH,
            happens=LOSE,
            column="{noun}/min on the watch",
            aside=LOSE_ASIDE,
            shots_too=True,
        ),
        LOST: Wording("losses", per="minute", happens=LOSE, column="{noun}/min, shots not counted", aside=LOSE_ASIDE),
        "losses_per_min": Wording("losses", per="minute", happens=LOSE),
        "pass_run_median": Wording(
            "passes in a run",
            holds="they string {v} passes together",
            unit="passes in a run",
            column="passes in a run (the middle one)",
            instead="They string about {} passes together, not {}.",
            aside="they string {now} passes, not {before}",
            pictured="passes in a row, the middle run",
            whole=True,
        ),
        "transfers_per_min": Wording(
            "balls across",
            per="minute",
            happens="they get it across {times}",
            beside_figure="transfers",
            row="passes across, a minute",
            instead=f"They get it across {{}} times a minute {ROLLING}, not {{}}.",
            pictured="balls played across",
        ),
        "break_aways_per_bout": Wording(
            "break-aways",
            per="bout",
            clock=WATCH,
            happens="they break away {times}",
            instead=f"{{}} break-aways a bout {WATCH}, not {{}}.",
        ),
        "goals_per_bout": Wording(
            "goals",
            per="bout",
            clock=WATCH,
            happens="they score {n} goals",
            instead=f"{{}} goals a bout {WATCH}, not {{}}.",
        ),
        "points_per_min": Wording(
            "points",
            per="minute",
            happens="they score {n} points",
            instead=f"{{}} points a minute {ROLLING}, not {{}}.",
        ),
        "in_play_share": Wording(
            "time with the ball rolling",
            less="less",
            clock=WATCH,
            holds="the ball rolls for {v} of the bout on the watch",
            unit=f"% of the time {WATCH} {ROLLING}",
            column="ball rolling, %",
            instead=f"The ball is rolling for {{}} % of the time {WATCH}, not {{}} %.",
            aside="the ball rolls {now} of the bout on the watch, not {before}",
            pictured="time the ball is rolling",
            of="of the time {clock} with the ball rolling",
        ),
        MOST: Wording(
            "defending for the busiest",
            less="less",
            holds="the busiest defends {v} of the time with the ball rolling",
            unit=f"% of the time {ROLLING} for the player who defends most",
            column="the player who defends most, %",
            instead=f"Whoever defends most does so {{}} % of the time {ROLLING}, not {{}} %.",
            aside="one player defends {now} of the time the ball rolls, not {before}",
            pictured="time the player who defends most spends on it",
            of="of the time {clock} for whoever defends most",
        ),
        "pass_run_share_reaching": Wording(
            "runs that get to the number asked",
            holds="{v} of runs get to the number asked",
            unit="% of runs getting to the passes asked for",
            column="runs that reach the passes asked for, %",
            instead="{} % of runs get to the passes asked for, not {} %.",
            aside="{now} of runs get to the number, not {before}",
            pictured="runs of passes that get to the number asked for",
            of="of runs getting to the passes asked for, {clock}",
        ),
        "threshold_reached_per_min": Wording(
            "times they get there",
            per="minute",
            happens="they get to the number asked {times}",
            unit=f"times a minute to the passes asked for, {ROLLING}",
            column="passes asked for reached/min",
            instead=f"They get to the passes asked for {{}} times a minute {ROLLING}, not {{}}.",
            pictured="times they get to the number of passes",
        ),
        "thresholds_per_bout": Wording(
            "times they get there",
            per="bout",
            clock=WATCH,
            happens="they get to the number asked {times}",
            pictured="thresholds",
        ),
        "touches_per_min": Wording("touches", per="minute", row="touches each, a minute", column="touches each/min"),
        "passes_per_min": Wording(
            "passes",
            per="minute",
            happens="they play {n} passes",
            instead=f"They play {{}} passes a minute {ROLLING}, not {{}}.",
        ),
        "shot_ends_per_min": Wording(
            "shots",
            per="minute",
            happens="they get a shot off {times}",
            unit=f"attacks a minute that end in a shot, {ROLLING}",
            column="attacks ended by a shot/min",
            row="balls that end with a shot, a minute",
            instead=f"They end it with a shot {{}} times a minute {ROLLING}, not {{}}.",
        ),
        "pass_completion": Wording(
            "passes that arrive",
            holds="{v} of their passes arrive",
            unit="% of passes arriving",
            instead="{} % of passes arrive, not {} %.",
            aside="{now} of passes arrive, not {before}",
            of="of passes arriving, {clock}",
        ),
        OF_ROLES: Wording(
            "metres",
            per="minute",
            clock=WATCH,
            holds="{who} run {v} metres a minute on the watch",
            aside="{who} run {now} m {rate}, not {before}",
            pictured="running and walking",
        ),
        "high_speed_distance_per_min": Wording(
            "fast metres",
            per="minute",
            clock=WATCH,
            holds="{who} run {v} m fast a minute on the watch",
            column="metres fast/min",
            pictured="high speed distance",
        ),
        "wins_per_min": Wording("balls won", per="minute", happens="the ball is won {times}"),
        "defending_share": Wording(
            "defending",
            holds="{who} defend {v} of the time with the ball rolling",
            unit=f"% of the time {ROLLING} spent defending",
            pictured="time spent defending",
            of="of the time {clock} spent defending",
        ),
        "balls_out_per_min": Wording("balls out", per="minute", happens="it goes out {times}"),
        "points_per_bout": Wording("points", per="bout", clock=WATCH, happens="they score {n} points"),
        "colour_points_per_bout": Wording(
            "points of a colour", per="bout", clock=WATCH, happens="they score {n} points"
        ),
        "shots_per_bout": Wording("shots", per="bout", clock=WATCH, happens="they shoot {times}"),
        "transfer_success": Wording(
            "transfer success", pictured="balls across that arrive", of="of balls across arriving, {clock}"
        ),
        "defending_share_least": Wording(
            "defending share least",
            pictured="time the player who defends least spends on it",
            of="of the time {clock} for whoever defends least",
        ),
        "pass_run_mean": Wording("pass run mean", pictured="passes in a row, on average"),
        "time_defending_s": Wording("time defending", pictured="time spent defending"),
        "metabolic_power": Wording("cost of running", pictured="metabolic power"),
        "loss_share_by_cause": Wording("share of losses by cause", pictured="loss share by cause"),
    }
)
"""In the order of what a coach looks at first."""


def wording(measure: str) -> Wording:
    """How a measure is said; of one without words of its own its name without the unit."""
    if measure in MEASURES:
        return MEASURES[measure]
    plain = measure
    for ending in ENDINGS:
        plain = plain.removesuffix(ending)
    return Wording(plain.replace("_", " "))


def is_counted(measure: str) -> bool:
    """Whether it is a count of something that happens."""
    return bool(wording(measure).happens)
