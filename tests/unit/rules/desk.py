"""A play without a ball: what the engine offers to the rules, kept on a desk."""

from __future__ import annotations

from sim.game.model import Game, Rule
from sim.game.verbs import KINDS, EndBout
from sim.rules.consequences import VERBS
from sim.rules.guards import RuleEvent
from sim.rules.rotation import starting_roles
from sim.rules.rule_state import RuleState, Window


def standing_of(game: Game) -> RuleState:
    return RuleState(
        game,
        starting_roles(game, 0),
        [0.0] * len(game.players),
        game.phase(game.start_phase),
        game.start_area,
        game.start_side,
    )


class Desk:
    """Lots fall in the order of ids; player i stands i metres from the ball; `did` keeps what the rules asked for."""

    def __init__(self, game: Game, now: float = 10.0):
        self.game, self.standing, self.now = game, standing_of(game), now
        self.did: list[tuple] = []
        self.pair, self.carrier = (-1, -1), -1
        self.handed: set[int] = set()

    def unlocked(self, what: str, side: str | None) -> None:
        self.did.append(("unlock", {"cause": what} | ({} if side is None else {"side": side})))

    def scored(self, side: str, points: float) -> None:
        self.did.append(("score", {"side": side, "value": points}))

    def swapped(self, goer: int, comer: int) -> None:
        self.did.append(("swap", {"player": goer, "other": comer}))

    def serve(self, restart: str, event: RuleEvent) -> None:
        self.did.append(("restart", restart))

    def change_phase(self, name: str) -> None:
        self.standing.enter_phase(name, self.now)

    def stop(self) -> None:
        self.did.append(("stop",))

    def opened_window(self, side: str, window: Window) -> None:
        self.did.append(("window", {"side": side, "length": window.length}))

    def resize(self, area: str, metres: float, to: float) -> None:
        self.did.append(("resize", {"area": area, "metres": metres, "to": to}))

    def stepped(self, i: int) -> None:
        self.did.append(("step", {"player": i, "touches": self.standing.touches_of(i)}))

    def lot(self, i: int) -> float:
        return i / 100.0

    def distance_to_ball(self, i: int) -> float:
        return float(i)

    def last_pass(self) -> tuple[int, int]:
        return self.pair

    def holder(self) -> int:
        return self.carrier

    def roles_changed(self, players: list[int]) -> None:
        self.did.append(("roles", tuple(sorted(players))))

    def do(self, verb: str, event: RuleEvent, **words: object) -> None:
        VERBS[verb](self, event, KINDS[verb](**words))

    def noted(self, kind: str) -> list[dict]:
        return [fields for what, *rest in self.did if what == kind for fields in rest]

    def ids(self, role: str) -> list[str]:
        return [player.id for player, held in zip(self.game.players, self.standing.role, strict=True) if held == role]

    def number(self, player: str) -> int:
        return [one.id for one in self.game.players].index(player)


def rule(on: str, **guards: object) -> Rule:
    fields = {"name": "r", "count": None, "causes": (), "by": None, "each": False, "do": (EndBout(),)}
    return Rule(on=on, **(fields | guards))
