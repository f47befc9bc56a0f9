"""The rules answer to what happens."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from sim.game.model import Game, Phase, Rule
from sim.pitch import ground, phases, restarts, stopwatch
from sim.pitch.log import EventKind
from sim.pitch.state import Bout
from sim.pitch.whistle import decided, whistle
from sim.rules.consequences import VERBS
from sim.rules.guards import COUNTERS, RuleEvent, answers
from sim.rules.rule_state import RuleState, Window


@dataclass
class Answer:
    """What one rule may do to a bout (`sim.rules.consequences.Play`)."""

    bout: Bout
    rule: str
    handed: set[int] = field(default_factory=set)

    @property
    def now(self) -> float:
        """Watch time (s)."""
        return self.bout.now

    @property
    def game(self) -> Game:
        """The game that is played."""
        return self.bout.game

    @property
    def standing(self) -> RuleState:
        """Where the game stands."""
        return self.bout.standing

    def unlocked(self, what: str, side: str | None) -> None:
        """Tell of what is allowed from now on, to a side or (None) to everybody."""
        self.bout.note(EventKind.UNLOCK, cause=what, detail=side or "")

    def scored(self, side: str, points: float) -> None:
        """Tell of points that a side gets."""
        self.bout.note(EventKind.SCORE, side=side, cause=self.rule, value=points)
        if decided(self.bout):
            self.stop()

    def swapped(self, goer: int, comer: int) -> None:
        """Tell of two players who exchange roles."""
        self.bout.note(EventKind.SWAP, goer, comer)

    def serve(self, restart: str, event: RuleEvent) -> None:
        """The ball is dead until that restart."""
        restarts.serve(self.bout, restart, event)

    def change_phase(self, name: str) -> None:
        """That phase begins."""
        phases.change_phase(self.bout, name)
        restarts.choose_taker_anew(self.bout)

    def stop(self) -> None:
        """The bout ends."""
        whistle(self.bout, self.bout.now)

    def lot(self, i: int) -> float:
        """A number drawn by player i, to settle a tie."""
        return self.bout.lot(i)

    def distance_to_ball(self, i: int) -> float:
        """Metres from player i to the ball."""
        return self.bout.distance_to_ball(i)

    def last_pass(self) -> tuple[int, int]:
        """Passer and receiver of the last completed pass, -1 where there is none."""
        return self.bout.possession.last_pass

    def holder(self) -> int:
        """Who has the ball, -1 if nobody has."""
        return self.bout.holder()

    def roles_changed(self, players: list[int]) -> None:
        """These players have new roles, or something is allowed or forbidden now."""
        phases.roles_changed(self.bout, players)
        if players:
            restarts.choose_taker_anew(self.bout)

    def stepped(self, i: int) -> None:
        """Tell of a player who is on another step of his role's ladder."""
        self.bout.note(
            EventKind.STEP, i, side=self.bout.standing.side_of(i), value=self.bout.standing.touches_of(i) or 0
        )

    def resize(self, area: str, metres: float, to: float) -> None:
        """An area changes its size: at once where the ball is dead, else as it is dead next."""
        ground.plan(self.bout, area, metres, to)
        if not self.bout.in_play():
            ground.lay_out(self.bout)
            phases.roles_changed(self.bout, [])
            restarts.call_again(self.bout)

    def opened_window(self, side: str, window: Window) -> None:
        """Tell of a window in which a side may win the ball back, and wait for its end as long as the phase lasts."""
        bout, unit = self.bout, "seconds" if window.passes is None else "passes"
        bout.note(EventKind.WINDOW, window.loser, side=side, detail=unit, value=window.length)
        if window.passes is None:
            bout.clock.at(
                bout.now + window.length, "timer", lambda t: window_closes(bout, t, side, window), bout.spells.timers
            )


def tell(bout: Bout, event: RuleEvent, phase: Phase | None = None) -> None:
    """Let the rules of the phase it happened in (None: the present one) answer to an event, in the order of the file.

    Nobody answers when the bout has ended.
    """
    if bout.is_over():
        return
    stopwatch.read(bout)
    standing = bout.standing
    phase = standing.phase if phase is None else phase
    due = [rule for rule in phase.rules if answers(rule, event, standing)]  # whatever those before them do
    if phase is standing.phase:
        standing.fired |= {(rule.name, event.side) for rule in due if rule.on in COUNTERS}
    for rule in due:
        if not answer(bout, rule, event, phase):
            return
    if event.kind != "loss":  # a loss is settled when the win has been told, too
        hand_on(bout)
    stopwatch.read(bout)


def answer(bout: Bout, rule: Rule, event: RuleEvent, phase: Phase) -> bool:
    """A rule of that phase does what it has to do; returns False where it ends the bout."""
    counted = event.count if rule.on in (*COUNTERS, "counter", "time") else math.nan
    bout.note(EventKind.RULE, event.player, side=event.side, cause=rule.name, detail=phase.name, value=counted)
    if rule.on in COUNTERS and rule.count is not None:
        bout.note(EventKind.THRESHOLD, side=event.side, cause=rule.on, value=float(rule.count))
    play = Answer(bout, rule.name)
    for action in rule.do:
        VERBS[action.verb](play, event, action)
        if bout.is_over() or action.verb == "end":
            return False
    return True


def hand_on(bout: Bout) -> None:
    """The ball is the side's whose player has it: one whom the rules have moved to another side takes it with him."""
    holder = bout.holder()
    if holder < 0 or bout.possession.pending is not None or bout.side_for(holder) == bout.standing.side:
        return
    bout.standing.new_possession(bout.side_for(holder))
    bout.hold_for(bout.standing.side)
    bout.touched(holder)
    bout.note(EventKind.POSSESSION, holder)
    phases.roles_changed(bout, [])


def time_is_up(bout: Bout, t: float, count: float) -> None:
    """A phase has lasted `count` seconds for which one of its rules waits."""
    bout.now = t
    tell(bout, RuleEvent("time", bout.standing.side, bout.holder(), count=count))


def window_closes(bout: Bout, t: float, side: str, window: Window) -> None:
    """The time of a window is up: unless it is closed already, the side has not won the ball back in it."""
    if bout.standing.windows.get(side) is window:
        bout.now = t
        missed(bout, side, window)


def pass_in_windows(bout: Bout, side: str, floating: bool) -> None:
    """A side has completed one more pass, from or to a floater (`floating`) or not: windows of the others that are counted in
    passes may be over."""
    for other, window in list(bout.standing.windows.items()):
        if other != side and window.passes is not None and (window.floaters or not floating):
            window.passes -= 1
            if window.passes <= 0:
                missed(bout, other, window)


def missed(bout: Bout, side: str, window: Window) -> None:
    """A side has not won the ball back within its window: the rules answer."""
    del bout.standing.windows[side]
    tell(bout, RuleEvent("not won back", side, window.loser, window.winner, window.cause))
