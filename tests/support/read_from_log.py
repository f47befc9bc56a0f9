"""Do the rules fire when their printed words say so, and do what they say?  Read from the log of a bout alone.

Nothing of `sim.rules` is asked: what happened is taken from the events of play, every rule of the phase in which it happened is
held against it, and the events that follow a rule are held against its consequences.  `misplayed` gives what does not agree.
"""

from __future__ import annotations

from collections import Counter, deque
from dataclasses import dataclass, field
from math import isclose

from sim.game.borders import distance
from sim.game.having import sides_having, sides_scoring, stops_when_won
from sim.game.model import Game, Phase, Rule
from sim.game.verbs import Action
from sim.geometry import ROUNDING_M
from sim.pitch.log import FIELDS, BoutLog

SHOTS = ("goal", "save", "miss")
AFTER = (
    "rule",
    "threshold",
    "unlock",
    "score",
    "swap",
    "job",
    "phase",
    "break",
    "serve",
    "dead",
    "contested",
    "end",
    "window",
    "step",
    "ground",
)
"""What a rule may leave in the log; anything else is play, and ends what the rules had to answer."""
DONE = ("score", "swap", "unlock", "phase", "serve", "window", "step")
"""What a rule does that the log tells in one event."""


@dataclass
class RuleEvent:
    t: float
    kind: str
    side: str
    phase: Phase
    player: str = ""
    other: str = ""
    cause: str = ""
    count: float = 0.0
    touched: str = ""  # the side that touched the ball last
    deed: dict | None = None  # of a pass or a carry: what was done
    either: bool = False  # the words leave it open whether it counts


@dataclass
class Reader:
    game: Game
    log: BoutLog
    wrong: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.events = [dict(zip(FIELDS, row, strict=True)) for row in self.log.events]
        self.role: dict[str, str] = {}
        self.since: dict[str, float] = {}
        self.team = {player.id: player.team for player in self.game.players}
        self.wins: Counter[str] = Counter()
        self.step: dict[str, int] = {}  # how far down the ladder of his role a player is
        self.waiting: dict[tuple[str, str], int] = {}  # (rule, side) of counter rules that have fired -> the count then
        self.sizes = {area.name: (area.length, area.width) for area in self.game.areas}
        self.marked: dict[str, tuple[float, float]] = {}  # sizes that areas are to have from the next dead ball on
        self.open: set[tuple[str, str]] = set()  # (what, side), "" for both
        self.open_first(self.game.phase(self.game.start_phase))
        self.todo: deque[RuleEvent] = deque()
        self.due: deque[tuple[Rule, RuleEvent]] = deque()
        self.stopped_at = -1.0  # when a rule last gave a new ball
        self.turned_at = -1.0  # when a rule last set the count of passes to nothing or turned the phase
        self.awaiting = False
        self.live = False
        self.shot: RuleEvent | None = None  # a saved shot, lost once the keeper's ball is won
        self.out: RuleEvent | None = None
        self.fouled: RuleEvent | None = None
        self.lost: RuleEvent | None = None  # a loss whose winner is about to be named
        self.touched = self.game.start_side
        self.arrived = (-1.0, "")  # when, and where, the ball last came into another area without being played across
        self.flying = False  # a shot is on its way
        self.floating = False  # a floater touched the ball last
        self.over = False
        self.phase = self.game.start_phase
        self.reset_passes = False
        self.had: tuple[str, str] = ("", "")  # who has the ball, and whose pass it was
        self.struck: dict = {}  # the pass on its way
        self.last_gate: dict[str, str] = {}
        self.done_at = (-1.0, self.phase)  # when something was done that may be counted, and in which phase

    def ladder(self, player: str) -> tuple:
        return self.game.role(self.role[player]).ladder

    def side(self, player: str) -> str:
        side = self.game.role(self.role[player]).side
        return self.team[player] if side == "team" else side

    def opponents(self, side: str) -> str:
        return next((one for one in sorted(self.sides()) if one != side), side)

    def sides(self) -> set[str]:
        return {self.side(player) for player in self.role} - {"holder"}

    def note(self, event: dict, text: str) -> None:
        self.wrong.append(f"{event['t']:.2f} s: {text}")

    # What should fire.

    def answers(self, rule: Rule, what: RuleEvent) -> bool:
        if rule.on != what.kind or rule.by not in (None, what.side):
            return False
        if rule.colour is not None and self.team.get(what.player) != rule.colour:
            return False
        if rule.on == "loss":
            foot = what.player and self.step.get(what.player, 0) == len(self.ladder(what.player)) > 0
            return (not rule.causes or what.cause in rule.causes) and (foot or not rule.last_step)
        if rule.on == "transfer":
            start, end = what.cause.split(">")
            return rule.from_area in (None, start) and rule.to_area in (None, end)
        if what.deed is not None:
            return self.is_asked(rule, what.deed)
        if rule.on == "counter":
            reached = what.count % rule.count == 0 if rule.each else what.count == rule.count
            return rule.counter == what.cause and what.count > 0 and reached
        if rule.on in ("passes", "wins"):
            if rule.each:
                return what.count > 0 and what.count % rule.count == 0
            return what.count >= rule.count and not self.is_waiting(rule, what)
        return True

    def is_asked(self, rule: Rule, deed: dict) -> bool:
        """Whether a pass or a carry is what the words ask for."""
        gates = [gate for gate in deed["gates"] if not (rule.other_gate and gate == deed["last_gate"])]
        return (
            rule.by_role in (None, deed["by"])
            and rule.to_role in (None, deed["to"])
            and (rule.from_area is None or rule.from_area in deed["start"])
            and (rule.to_area is None or rule.to_area in deed["end"])
            and (rule.through is None or (bool(gates) if rule.through == "any" else rule.through in gates))
            and not (rule.first_time and not deed["first_time"])
            and not (rule.not_back and deed["back"])
        )

    def areas_at(self, event: dict, player: str) -> set[str]:
        """The areas and zones in which something happens; who stands on the lines of one is in it, and a ball just over a line of
        the ground is in the zone beside it."""
        now = [
            one.model_copy(update=dict(zip(("length", "width"), self.sizes[one.name], strict=True)))
            if one.name in self.sizes
            else one
            for one in self.game.places
        ]
        x, y = event["x"], event["y"]
        found = {one.name for one in now if distance(one, x, y) <= ROUNDING_M}
        grounds = [one for one in now if one.name in {area.name for area in self.game.areas}]
        west, south, east, north = min(grounds, key=lambda one: distance(one, x, y)).bounds
        x, y = min(max(x, west), east), min(max(y, south), north)
        zones = {zone.name for zone in self.game.zones}
        found |= {one.name for one in now if one.name in zones and distance(one, x, y) <= ROUNDING_M}
        style, place = self.post(player, event["phase"])
        if style == "edge":
            home = next(team.home for team in self.game.teams if team.name == self.team[player])
            found.add({"active": event["area"], "home": home or event["area"]}.get(place, place))
        return found

    def post(self, player: str, phase: str) -> tuple[str, str]:
        """Style and place of a player in a phase."""
        role = self.game.role(self.role[player])
        job = next((one for one in self.game.phase(phase).jobs if one.role == role.name), role)
        return job.style, job.place

    def follow_the_ball(self, event: dict) -> None:
        """Who has it, from whom, and how it was played."""
        kind, player = event["kind"], event["player"]
        if kind == "touch" and self.had[0] != player:
            self.had = (player, "")
        if kind == "receive":
            self.had = (player, event["other"])
        if kind == "release":
            before = self.events[event["seq"] - 1]
            again = (before["kind"], before["player"], before["t"]) == ("touch", player, event["t"])
            self.struck = {
                "by": self.role[player],
                "start": self.areas_at(event, player),
                "first_time": event["detail"] == "first-time" or not again,
                "from": self.had[1],
            }
        if kind in ("release", "shot", "deflect", "dead") or (kind == "tackle" and event["cause"] != "beaten"):
            self.had = ("", "")

    def told_pass(self, event: dict, side: str, phase: Phase) -> RuleEvent:
        """The pass just received, told apart."""
        player, gates = event["player"], event["detail"].split()
        deed = self.struck | {
            "to": self.role[player],
            "end": self.areas_at(event, player),
            "gates": gates,
            "last_gate": self.last_gate.get(side, ""),
            "back": self.struck["from"] == player,
        }
        if gates:
            self.last_gate[side] = gates[-1]
        return RuleEvent(event["t"], "pass", side, phase, player, event["other"], touched=side, deed=deed)

    def is_waiting(self, rule: Rule, what: RuleEvent) -> bool:
        """A counter rule fires once until its counter begins again, which shows in the count itself."""
        then = self.waiting.get((rule.name, what.side))
        return then is not None and what.count > then

    def is_pending(self, kind: str) -> bool:
        """Whether something of this kind has happened that rules have not answered yet."""
        return any(what.kind == kind for what in (*self.todo, *(what for _, what in self.due)))

    def expect(self, event: dict) -> None:
        """Turn happenings into rules that are due, the first first."""
        while self.todo and not self.due:
            what = self.todo.popleft()
            if what.kind in ("passes", "pass") and self.turned_at == what.t:
                what.either = True  # a rule of the arrival has begun the count again, or turned the phase
            if what.kind == "home":
                what.phase = self.game.phase(self.phase)
                if what.phase.aim != "home" or self.stopped_at == what.t:
                    continue
            if what.kind == "wins":
                what.count = self.wins[what.side]
            if what.kind == "loss" and what.cause == "shot" and self.stopped_at == what.t:
                continue  # the shot's own rule has given a new ball
            self.due.extend((rule, what) for rule in what.phase.rules if self.answers(rule, what))

    def flush(self, event: dict) -> None:
        """Nothing more may be due when play goes on."""
        self.expect(event)
        while self.due and not self.over:
            rule, what = self.due.popleft()
            if not what.either:
                self.note(event, f"{rule.name} did not fire on {what.kind} of {what.side} {what.cause}{what.count:g}")
            self.expect(event)
        self.due.clear()
        self.todo.clear()

    # Reading.

    def read(self) -> list[str]:
        for i, event in enumerate(self.events):
            if event["kind"] not in AFTER:
                if not (event["kind"] in ("possession", "transfer") and self.todo) and not self.comes_home(event):
                    self.flush(event)
                self.follow_the_ball(event)
                self.play(event, i)
            elif event["kind"] == "rule":
                self.fired(event, i)
            self.state(event)
        self.flush(self.events[-1])
        self.timers()
        return self.wrong

    def comes_home(self, event: dict) -> bool:
        """Whether a win is only counted, before it is also a ball brought home."""
        return event["kind"] == "count" and any(what.kind == "home" and what.t == event["t"] for what in self.todo)

    def state(self, event: dict) -> None:
        if event["kind"] in ("shot", "block", *SHOTS):
            self.flying = event["kind"] == "shot"
        match event["kind"]:
            case "job":
                if self.role.get(event["player"]) != event["cause"]:
                    self.step[event["player"]] = 0
                    self.role[event["player"]] = event["cause"]
                    self.since[event["player"]] = event["t"]
            case "touch" | "deflect" | "block":
                self.touched, self.floating = self.side_now(event), self.side(event["player"]) == "holder"
            case "win" if self.floating:  # he has played for those who have now won it
                self.touched = event["side"]
            case "tackle" if event["cause"] == "loose":
                self.touched = self.side_now(event)
            case "possession" if (
                self.events[event["seq"] - 1]["kind"] != "win"
            ):  # he may have played it before his win counts
                self.touched = event["side"]
            case "serve":
                self.awaiting = True
            case "ground":
                if (seen := (event["x"], event["y"])) != self.marked.pop(event["detail"], None):
                    self.note(event, f"{event['detail']} was marked out {seen[0]:g} x {seen[1]:g} m")
                self.sizes[event["detail"]] = seen
            case "live":
                if self.marked:
                    self.note(event, f"{list(self.marked)} had not been marked out anew")
                self.awaiting, self.live = False, True
            case "dead":
                self.live, self.had = False, ("", "")
            case "contested":
                self.shot = None
            case "end":
                self.over = True

    def side_now(self, event: dict) -> str:
        """Whose touch it is: a floater's is that of the side in possession."""
        side = self.side(event["player"])
        return event["side"] if side == "holder" else side

    def play(self, event: dict, i: int) -> None:
        t, kind, side, phase = event["t"], event["kind"], event["side"], self.game.phase(event["phase"])
        if kind in ("touch", "receive", "loss", "live"):
            self.done_at = (t, phase)
        following = self.events[i + 1] if i + 1 < len(self.events) else event
        if kind == "out":
            lost = following["kind"] == "loss" and following["cause"] == "out"
            if (
                self.floating and not lost
            ):  # he played for those whose win was not yet confirmed: the others have not lost it
                self.touched = self.opponents(side)
            toucher = self.touched
            self.out = RuleEvent(t, "out", toucher, phase, event["player"], touched=toucher)
            if lost:
                self.out.side = following["side"]
            else:
                self.todo.append(self.out)
                self.out = None
        elif kind == "foul":
            deed = {"by": self.role[event["player"]], "to": self.role[event["other"]], "end": set(), "gates": []}
            deed |= {"start": self.areas_at(event, event["other"]), "last_gate": "", "first_time": False, "back": False}
            theirs = self.side(event["player"])  # a floater tackles nobody
            what = RuleEvent(t, "foul", theirs, phase, event["player"], event["other"], touched=theirs, deed=deed)
            if following["kind"] == "loss":  # before a win counts it is a loss of those who foul, first
                self.fouled = what
            else:
                self.todo.append(what)
        elif kind == "loss":
            what = RuleEvent(t, "loss", side, phase, event["player"], event["other"], event["cause"], touched=side)
            result = self.events[i - 1]
            if result["kind"] in SHOTS:
                self.todo.append(
                    RuleEvent(t, result["kind"], side, phase, event["player"], result["player"], touched=side)
                )
                if result["kind"] == "save":
                    self.shot = what
                else:
                    self.todo.append(what)
            elif event["other"]:
                self.lost = what
            else:
                self.todo += [one for one in (what, self.out, self.fouled) if one is not None]
                self.out = self.fouled = None
        elif kind == "win":
            before = self.events[i - 1]
            what = self.lost if before["kind"] == "loss" and before["other"] else self.shot
            self.shot = None
            assert what is not None, "a win without a loss"
            what.other = event["player"]
            self.wins[side] += 1
            self.todo.append(what)
            self.todo.append(RuleEvent(t, "win", side, what.phase, event["player"], what.player, touched=side))
            self.todo.append(RuleEvent(t, "wins", side, what.phase, event["player"], touched=side))
            if self.home(side) == event["area"]:  # won at home, so it has come home, if nobody has stopped play
                self.todo.append(RuleEvent(t, "home", side, phase, event["player"], touched=side))
        elif kind == "transfer":
            what = RuleEvent(t, "transfer", side, phase, event["player"], cause=event["detail"], touched=side)
            passes = [one for one in self.todo if one.kind in ("passes", "pass")]
            self.todo = deque(one for one in self.todo if one.kind not in ("passes", "pass"))
            self.todo.append(
                what
            )  # a pass that arrives in another area is that first, then it is home, then it is one more pass
            if (
                self.home(side) == event["area"]
            ):  # in the phase that is on by then: a rule of the transfer may have turned it
                self.todo.append(RuleEvent(t, "home", side, phase, event["player"], touched=side))
            self.todo.extend(passes)
        elif (
            kind == "receive" and event["passes"] == self.events[i - 1]["passes"] + 1
        ):  # not while a win waits to be confirmed
            if self.reset_passes and event["passes"] != 1:
                self.note(event, f"the count of passes did not begin again (it is {event['passes']})")
            self.reset_passes = False
            self.todo.append(
                RuleEvent(t, "passes", side, phase, event["player"], event["other"], "", event["passes"], side)
            )
            self.todo.append(self.told_pass(event, side, phase))
        elif kind == "possession":
            self.reset_passes = False
        elif kind == "count":
            at, began = self.done_at
            phase = began if at == t else phase
            self.todo.append(
                RuleEvent(t, "counter", side, phase, event["player"], cause=event["cause"], count=event["value"])
            )
        elif kind == "carry":
            deed = {"by": self.role[event["player"]], "to": "", "start": set(), "end": {event["detail"]}, "gates": []}
            deed |= {"last_gate": "", "first_time": False, "back": False}
            self.todo.append(RuleEvent(t, "carry", side, phase, event["player"], touched=side, deed=deed))
        elif kind == "area":
            self.arrived = (t, event["area"])
        across = kind == "release" and event["detail"] == "transfer" and phase.aim != "home"
        if across and not self.may("transfer", self.side_now(event)):
            self.note(event, "a pass to another area while it is not allowed")
        if kind == "shot" and not self.may("shoot", self.side_now(event)):
            self.note(event, "a shot while it does not count")

    def open_first(self, phase: Phase) -> None:
        """What a phase allows from its start."""
        alone = {(what, side) for side, more in phase.open_for for what in more}
        self.open = {(what, "") for what in phase.open} | alone

    def may(self, what: str, side: str) -> bool:
        return bool({(what, ""), (what, side)} & self.open)

    def meant(self, word: str | None, what: RuleEvent, holder: str) -> str:
        """The side that a word of a rule means."""
        lost = what.side if what.kind == "loss" else ""
        if what.kind == "foul":
            lost = what.side
        if what.kind in ("won back", "not won back"):
            lost = what.side if what.kind == "not won back" else self.opponents(what.side)
        return {"holder": holder, "winner": self.opponents(lost), "loser": lost}.get(word or "", word or "")

    def home(self, side: str) -> str | None:
        return next((team.home for team in self.game.teams if team.name == side), None)

    def fired(self, event: dict, i: int) -> None:
        rule = next(one for one in self.game.phase(event["detail"]).rules if one.name == event["cause"])
        if rule.on in (
            "won back",
            "not won back",
        ):  # when they answer is held to in tests/unit/rules/test_changing_places
            self.expect(event)
            what = RuleEvent(event["t"], rule.on, event["side"], self.game.phase(event["detail"]), event["player"])
        elif rule.on == "time":
            self.flush(event)
            what = RuleEvent(event["t"], "time", event["side"], self.game.phase(event["detail"]), event["player"])
        elif (
            rule.on == "home" and self.arrived == (event["t"], self.home(event["side"])) and not self.is_pending("home")
        ):
            what = RuleEvent(event["t"], "home", event["side"], self.game.phase(event["detail"]), event["player"])
        else:
            self.expect(event)
            while self.due and self.due[0][1].either and self.due[0][0].name != rule.name:
                self.due.popleft()
            if not self.due:
                self.note(event, f"{rule.name} fired and nothing had happened")
                return
            wanted, what = self.due.popleft()
            if wanted.name != rule.name or what.phase.name != event["detail"] or event["side"] != what.side:
                self.note(event, f"{rule.name} fired, {wanted.name} was due on {what.kind} of {what.side}")
        if rule.on in ("passes", "wins") and what.phase.name == event["phase"]:
            self.waiting[rule.name, what.side] = what.count
        self.consequences(rule, what, event, i)

    # What should follow.

    def consequences(self, rule: Rule, what: RuleEvent, event: dict, i: int) -> None:
        left = []
        for one in self.events[i + 1 :]:
            if one["kind"] == "rule" or one["kind"] not in AFTER:
                break
            left.append(one)
        rest = deque(left)
        holder = self.holder(what, event)
        role, since = dict(self.role), dict(self.since)
        self.handed: set[str] = set()  # one rule takes a player on from role to role only once
        for action in rule.do:
            self.action(rule, action, what, holder, event, rest, role, since)
            if action.verb == "end":
                return
        served = what.kind in ("out", "foul", *SHOTS) or what.cause in (
            "out",
            "time limit",
            "rule fault",
            "shot",
        )  # a new ball without a rule
        served = served or any(
            one["kind"] == "out" and one["t"] == event["t"] for one in self.events[:i]
        )  # as a window ends
        kinds = ("score", "swap", "phase", "unlock") if served else ("score", "swap", "phase", "unlock", "serve")
        extra = [one["kind"] for one in rest if one["kind"] in kinds]
        if extra:
            self.note(event, f"{rule.name} did more than it says: {', '.join(extra)}")

    def holder(self, what: RuleEvent, event: dict) -> str:
        """The side that the words call the side with the ball."""
        if what.kind in ("loss", "out", "not won back", "foul"):
            return self.opponents(what.side)
        return what.side

    def take(self, rest: deque, kind: str) -> dict | None:
        """The next event of this kind, those of who does what passed over."""
        for one in list(rest):
            if one["kind"] == kind:
                rest.remove(one)
                return one
            if one["kind"] not in ("job", "threshold", "break", "dead", "contested", "ground"):
                return None
        return None

    def action(
        self, rule, action: Action, what, holder: str, event: dict, rest: deque, role: dict, since: dict
    ) -> None:
        name, other = rule.name, self.opponents(holder)
        silent = action.verb in ("resize", "reset", "close")
        if self.over_now(event) and not silent and not any(one["kind"] in DONE for one in rest):
            return  # the points, or the last of the balls, have ended the bout
        match action.verb:
            case "score":
                gets = self.meant(action.to, what, holder)
                seen = self.take(rest, "score")
                if seen is None or (seen["side"], seen["value"], seen["cause"]) != (gets, action.value, name):
                    self.note(
                        event, f"{name} gave {seen and (seen['side'], seen['value'])}, not {action.value:g} to {gets}"
                    )
            case "open":
                gets = self.meant(action.to, what, holder)
                if not self.may(action.what, gets):
                    seen = self.take(rest, "unlock")
                    if seen is None or (seen["cause"], seen["detail"]) != (action.what, gets):
                        self.note(event, f"{name} did not allow {action.what} to {gets or 'everybody'}")
                    self.open.add((action.what, gets))
            case "close":
                barred = self.meant(action.to, what, holder)
                left = {(action.what, one) for one in self.sides() - {barred} if barred and self.may(action.what, one)}
                self.open = {one for one in self.open if one[0] != action.what} | left
            case "phase":
                seen = self.take(rest, "phase")
                if seen is None or seen["cause"] != action.what:
                    self.note(event, f"{name} did not turn the game to {action.what}")
                self.open_first(self.game.phase(action.what))
                self.turned_at = event["t"]
                self.waiting.clear()
                self.wins.clear()  # a new phase counts from its beginning
                self.phase = action.what
            case "window":
                if self.take(rest, "window") is None:
                    self.note(event, f"{name} opened no window")
            case "step":
                who = [what.player] if action.who == "loser" else self.of_side(role, what.side)
                lower = [one for one in who if one and self.step.get(one, 0) < len(self.game.role(role[one]).ladder)]
                seen = [each for one in lower if (each := self.take(rest, "step")) is not None]
                if sorted(one["player"] for one in seen) != sorted(lower):
                    self.note(event, f"{name} took {[one['player'] for one in seen]} a step down, not {lower}")
                for one in lower:
                    self.step[one] = self.step.get(one, 0) + 1
            case "resize":
                length, width = self.marked.get(action.what, self.sizes[action.what])
                if action.metres < 0:
                    step = -min(-action.metres, max(0.0, min(length, width) - action.to))
                else:
                    step = min(action.metres, max(0.0, action.to - max(length, width)))
                self.marked[action.what] = (length + step, width + step)
                if self.marked[action.what] == self.sizes[action.what]:
                    del self.marked[action.what]
            case "reset" if action.what == "steps":
                while any(one["kind"] == "step" and one["value"] == 0.0 for one in rest):
                    self.take(rest, "step")
                self.step.clear()
            case "reset":
                if action.what == "wins":
                    self.wins.clear()
                elif action.what == "passes":
                    self.reset_passes, self.turned_at = True, event["t"]
                counting = {one.name for one in self.game.phase(event["phase"]).rules if one.on == action.what}
                self.waiting = {key: n for key, n in self.waiting.items() if key[0] not in counting}
            case "restart":
                self.restart(rule, action, what, event, rest)
            case "swap" if self.is_further(action, what):  # with those of further swaps of the rule
                come_from = {one for swap in rule.do if swap.verb == "swap" for one in swap.come_from}
                while (seen := self.take(rest, "swap")) is not None:
                    if role[seen["player"]] == role[seen["other"]] and role[seen["other"]] not in come_from:
                        self.note(event, f"{name} exchanged {seen['player']} and {seen['other']}, who have one role")
                    self.exchange(rule, seen["player"], seen["other"], event, rest, role, since)
            case "swap":
                self.swap(rule, action, what, event, rest, role, since)
            case "trade":
                self.trade(what, event, rest, role)
            case "assign":
                self.assign(rule, action, {"holder": holder, "other": other}, event, rest, role, since)
            case "end":
                if self.flying:
                    return  # a shot on its way is waited for
                if self.take(rest, "end") is None or self.events[-1]["t"] != event["t"]:
                    self.note(event, f"{name} did not end the bout")

    def over_now(self, event: dict) -> bool:
        """Whether the bout is over at this very moment."""
        return self.events[-1]["t"] == event["t"]

    def restart(self, rule: Rule, action: Action, what: RuleEvent, event: dict, rest: deque) -> None:
        if self.awaiting or self.stopped_at == event["t"]:
            return  # a new ball is on its way already
        to = self.game.restart(action.what).to
        last = what.side if what.kind in ("loss", "foul") else self.touched
        lost = what.kind in ("loss", "out", "not won back", "foul", *SHOTS)
        away = self.opponents(what.side)
        named = {
            "same": last,
            "other": self.opponents(last),
            "winner": away if lost else what.side,
            "loser": what.side if lost else away,
        }
        seen = self.take(rest, "serve")
        if seen is None and self.over_now(event):
            return  # there is no ball left to play
        if seen is None or seen["side"] != named.get(to, to):
            self.note(event, f"{rule.name} gave the ball to {seen and seen['side']}, not to {named.get(to, to)}")
        seconds = self.game.restart(action.what).seconds
        live = next((one for one in self.events if one["seq"] > event["seq"] and one["kind"] == "live"), None)
        if live is not None and live["t"] < event["t"] + seconds - 1e-9:
            self.note(event, f"{rule.name} had the ball back after {live['t'] - event['t']:.2f} s, not {seconds:g} s")
        self.stopped_at = self.turned_at = event["t"]

    def of_side(self, role: dict, side: str) -> list[str]:
        named = {player: self.game.role(one).side for player, one in role.items()}
        return [player for player, word in named.items() if (self.team[player] if word == "team" else word) == side]

    def became(self, event: dict, rest: deque, player: str, role: dict) -> bool:
        """Whether the log says that the player now has the role that `role` holds."""
        return any(one["kind"] == "job" and one["player"] == player and one["cause"] == role[player] for one in rest)

    def swap(self, rule, action, what, event, rest, role, since) -> None:
        sides = {one: self.game.role(role[one]).side for one in role}
        against = [one for one in role if sides[one] not in ("holder", sides.get(what.player, ""))]
        against = [one for one in against if self.style(role[one], event["phase"]) not in ("goal", "wait")]
        if not what.player or sides[what.player] == "holder" or not against:
            return
        if action.who == "loser and partner":
            self.swap_pairs(rule, what, against, event, rest, role, since)
            return
        seen = self.take(rest, "swap")
        if seen is None or seen["player"] != what.player or seen["other"] not in against:
            self.note(event, f"{rule.name} did not send {what.player} in")
            return
        longest = min(since[one] for one in against)
        winner = action.other == "winner" and what.other in against
        if seen["other"] != what.other if winner else not isclose(since[seen["other"]], longest):
            self.note(event, f"{rule.name} took {seen['other']} out, which is not {action.other}")
        self.exchange(rule, seen["player"], seen["other"], event, rest, role, since)

    def is_further(self, action: Action, what: RuleEvent) -> bool:
        """Whether a swap is another than after a loss with the other side, which is held to its words one by one."""
        usual = action.who in ("loser", "loser and partner") and action.other in ("winner", "longest in")
        return not usual or action.alone or action.from_role is not None or what.kind != "loss"

    def swap_pairs(self, rule, what, against, event, rest, role, since) -> None:
        """The loser and his partner go in for two who are partners."""
        pairs = [set(pair) for team in self.game.teams for pair in team.pairs]
        seen = [one for one in (self.take(rest, "swap"), self.take(rest, "swap")) if one is not None]
        goers, comers = {one["player"] for one in seen}, {one["other"] for one in seen}
        if not seen:
            if any(what.player in pair for pair in pairs) and any(pair <= set(against) for pair in pairs):
                self.note(event, f"{rule.name} did not send the pair of {what.player} in")
        elif what.player not in goers or goers not in pairs or comers not in pairs or not comers <= set(against):
            self.note(event, f"{rule.name} sent {sorted(goers)} in for {sorted(comers)}")
        for one in seen:
            self.exchange(rule, one["player"], one["other"], event, rest, role, since)

    def style(self, role: str, phase: str) -> str:
        jobs = {job.role: job.style for job in self.game.phase(phase).jobs}
        return jobs.get(role, self.game.role(role).style)

    def exchange(self, rule, one: str, other: str, event, rest, role, since) -> None:
        for player in (one, other):
            if role[one] != role[other]:
                since[player] = event["t"]
        role[one], role[other] = role[other], role[one]
        if not (self.became(event, rest, one, role) and self.became(event, rest, other, role)):
            self.note(event, f"{rule.name}: {one} and {other} did not change roles")

    def trade(self, what, event, rest, role) -> None:
        number = {player.id: (player.number, player.id) for player in self.game.players}
        lost = sorted(self.of_side(role, what.side), key=number.get)
        won = sorted(self.of_side(role, self.opponents(what.side)), key=number.get)
        wanted = list(zip(lost, won, strict=False))
        found = []
        while len(found) < len(wanted) and (seen := self.take(rest, "swap")) is not None:
            found.append((seen["player"], seen["other"]))
        if found != wanted:
            self.note(event, f"exchanged {found}, not {wanted}")
        for one, other in wanted:
            role[one], role[other] = role[other], role[one]
        if not all(self.became(event, rest, player, role) for pair in wanted for player in pair):
            self.note(event, "not everybody has the other's role")

    def assign(self, rule, action, sides, event, rest, role, since) -> None:
        pool = list(role) if action.who == "all" else self.of_side(role, sides[action.who])
        if action.from_role is not None:
            pool = [one for one in pool if role[one] == action.from_role and one not in self.handed]
        if action.count is None:
            pool = [one for one in pool if role[one] != action.role]
        wanted = len(pool) if action.count is None else min(action.count, len(pool))
        chosen = [
            one["player"]
            for one in rest
            if one["kind"] == "job" and one["player"] in pool and one["cause"] == action.role
        ]
        chosen = list(dict.fromkeys(chosen))[:wanted]
        kept = wanted - (action.other == "nearest" and wanted == len(pool) > 0)  # never the one who has it
        kept -= min(kept, sum(role[one] == action.role for one in pool))  # who has it already is no news
        if action.other == "passer and receiver":  # one of them or none, if they do not qualify
            wanted, kept = min(wanted, 2), 0
        if not kept <= len(chosen) <= wanted:
            self.note(event, f"{rule.name} made {len(chosen)} {action.role}, not {wanted}")
        first = sorted(since[one] for one in pool)[:wanted]
        told = action.other == "longest in" and action.count is not None and len(chosen) == wanted
        if told and sorted(since[one] for one in chosen) != first:
            self.note(event, f"{rule.name} took {chosen}, who were not in longest")
        for one in chosen:
            if role[one] != action.role:
                role[one], since[one] = action.role, event["t"]
                if action.from_role is not None:
                    self.handed.add(one)

    def timers(self) -> None:
        """Every timer of a phase rings once, on its second, if the phase is still on; and never else."""
        turns = [(0.0, self.game.start_phase)] + [
            (one["t"], one["cause"]) for one in self.events if one["kind"] == "phase"
        ]
        turns = [one for one, after in zip(turns, [*turns[1:], (None, "")], strict=True) if one[0] != after[0]]
        ends = [t for t, _ in turns[1:]] + [self.log.duration_s]
        rang = Counter(
            (one["detail"], one["cause"], round(one["t"], 6)) for one in self.events if one["kind"] == "rule"
        )
        for (t, name), end in zip(turns, ends, strict=True):
            for rule in self.game.phase(name).rules:
                if rule.on != "time":
                    continue
                often = int((end - t) / rule.count + 1e-9) if rule.each else 1
                for at in (round(t + n * rule.count, 6) for n in range(1, often + 1)):
                    times = rang.pop((name, rule.name, at), 0)
                    if times != 1 and at < end - 1e-6 or times > 1:
                        self.wrong.append(f"{at:.2f} s: {rule.name} rang {times} times, not once")
        timed = {(phase.name, rule.name) for phase in self.game.phases for rule in phase.rules if rule.on == "time"}
        for (phase, name, t), times in rang.items():
            if (phase, name) in timed and times:
                self.wrong.append(f"{t:.2f} s: {name} rang out of time")


def unsaid(game: Game, log: BoutLog) -> list[str]:
    """What happens though the words have it that it cannot: who has the ball, who scores, whether a win stops play."""
    events = [dict(zip(FIELDS, row, strict=True)) for row in log.events]
    dead = {one["t"] for one in events if one["kind"] in ("dead", "end")}
    having, scoring, stopped = sides_having(game), sides_scoring(game), stops_when_won(game)
    return [
        f"{one['t']:.2f} s: {one['kind']} of {one['side']}, which is ruled out"
        for one in events
        if (one["kind"] == "loss" and one["side"] not in having)
        or (one["kind"] == "score" and one["side"] not in scoring)
        or (one["kind"] == "win" and stopped and one["t"] not in dead)
    ]


def misplayed(game: Game, log: BoutLog) -> list[str]:
    """Where the log does not agree with the rules as they are printed; nothing where all is well."""
    return Reader(game, log).read()
