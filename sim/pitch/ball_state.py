"""What state the ball is in, and what each may become."""

from __future__ import annotations

from enum import IntEnum


class BallState(IntEnum):
    """As `sim.pitch.arrays` numbers them in the array of the ball; the compiled functions never see a bout that is over."""

    DEAD = 0
    """Out of play: a restart has been called and is waited for."""
    HELD = 1
    """In play, under a player's control."""
    ROLLING = 2
    """In play, on its way: passed, shot or loose."""
    OVER = 3
    """The bout has ended."""


DEAD, HELD, ROLLING, OVER = BallState  # each by its own name: to look up a member takes five times as long
MAY_BECOME: dict[BallState, tuple[BallState, ...]] = {
    DEAD: (HELD, OVER),  # the restart is taken
    HELD: (
        ROLLING,  # released, or tackled loose
        HELD,  # won in a tackle
        DEAD,
        OVER,
    ),
    ROLLING: (
        HELD,  # received, won, saved
        ROLLING,  # deflected, fumbled, blocked
        DEAD,
        OVER,
    ),
    OVER: (),
}


def check(now: BallState, then: BallState) -> None:
    """Raise `RuntimeError` where a ball in state `now` cannot become `then`: that is a mistake of this program."""
    if then not in MAY_BECOME[now]:
        raise RuntimeError(f"a ball that is {now.name.lower()} cannot become {then.name.lower()}")
