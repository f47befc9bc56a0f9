"""Why a ball was lost, as a coach sorts it: cut out, tackle, heavy touch, out of play unforced, time limit.

The log names what happened last (`sim.pitch.log.EventKind.LOSS`); a coach names what began it.  So a ball that runs over a line
counts with the touch that sent it there: an opponent's deflection, a tackle, a touch of one's own that ran away.  A ball that is
tackled because the first touch was heavy is a heavy touch.  What is left over the line was passed or carried there: unforced.
"""

from __future__ import annotations

from sim.pitch.log import EventKind

CUT, TACKLE, HEAVY, OUT, TIME = "cut out", "by tackle", "by heavy touch", "out of play", "by time limit"
CAUSES = (CUT, TACKLE, HEAVY, OUT, TIME)
SHOT = "shot"  # the end of a possession that is no loss to a coach
OVER_THE_LINE = "out"
HEAVY_TOUCH = "heavy touch"  # detail of a tackle in the log
SORTED = {
    "interception": CUT,
    "misplaced": CUT,
    "tackle": TACKLE,
    "miscontrol": HEAVY,
    "time limit": TIME,
    "rule fault": TIME,
}
"""The causes of the log that need no second look."""
AFRESH = (EventKind.RELEASE, EventKind.TOUCH, EventKind.LIVE)
"""With these somebody has the ball as he wants it: what happened to it before is over."""


class Causes:
    """Follows one bout, event by event, and sorts each loss."""

    def __init__(self) -> None:
        self.last = ""  # what sent the ball where it is, if nobody meant it to go there
        self.heavy = False  # the carrier was tackled off a heavy touch

    def see(self, kind: str, cause: str, own: bool, detail: str = "") -> None:
        """Note an event; `own`: by a player of the side whose ball it is.

        A touch that fails is logged as a touch and a deflection, in this order; a tackle won as that and a touch of the winner.
        """
        if kind in AFRESH:
            self.last, self.heavy = "", self.heavy and not own
        elif kind == EventKind.DEFLECT:
            self.last = HEAVY if own else CUT
        elif kind == EventKind.TACKLE and cause != "beaten":
            self.heavy = detail == HEAVY_TOUCH
            self.last = HEAVY if self.heavy else TACKLE

    def of_loss(self, cause: str) -> str:
        """The coach's cause of a loss that the log gives this cause; raises `ValueError` for one that is not sorted here."""
        if cause == OVER_THE_LINE:
            return self.last or OUT
        if cause not in SORTED:
            raise ValueError(f"cause of a loss must be one of {OVER_THE_LINE}, {', '.join(SORTED)} (got {cause!r})")
        return HEAVY if cause == "tackle" and self.heavy else SORTED[cause]
