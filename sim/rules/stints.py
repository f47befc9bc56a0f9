"""How much those have played who may play so much at most, and who has had it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sim.game.model import Player
from sim.rules.between import Held

SAME_S = 1e-6  # no more than what adding up times leaves over


@dataclass
class Stint:
    """What one player has played in the session before now: `bouts` (this one included, once he has been in play in it), and
    `played` seconds up to `since`, when he last came into play (None: he is not in play)."""

    player: Player
    bouts: int
    played: float
    counted: bool = False  # this bout is one of `bouts`
    since: float | None = None

    def left(self, t: float) -> float:
        """Seconds that he may still play at time t; infinity where only bouts are counted."""
        most = self.player.most_seconds
        return math.inf if most is None else most - self.until(t)

    def until(self, t: float) -> float:
        """Seconds that he has played by time t."""
        return self.played + (0.0 if self.since is None else t - self.since)

    def seen(self, plays: bool, t: float) -> None:
        """From time t on he is in play, or is not."""
        if plays and not self.counted:
            self.bouts, self.counted = self.bouts + 1, True
        if plays != (self.since is not None):
            self.played, self.since = self.until(t), t if plays else None

    def over(self, t: float) -> str:
        """Which of his limits he has come to: "minutes", "bouts" (and is not in this one), or "" (neither)."""
        if self.left(t) <= SAME_S:
            return "minutes"
        most = self.player.most_bouts
        return "bouts" if most is not None and not self.counted and self.bouts >= most else ""


def stints_of(players: Sequence[Player], held: Sequence[Held]) -> dict[int, Stint]:
    """Those who may play so much at most, by their number, at the start of a bout."""
    return {
        i: Stint(player, had.bouts, had.played)
        for i, (player, had) in enumerate(zip(players, held, strict=True))
        if player.has_cap
    }


def held_at(stint: Stint | None, role: str, seconds: float, t: float) -> Held:
    """What a player takes with him from a bout that is over at time t."""
    return Held(role, seconds) if stint is None else Held(role, seconds, stint.bouts, stint.until(t))
