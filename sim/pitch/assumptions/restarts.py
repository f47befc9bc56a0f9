"""Details of play: dead balls and where players stand.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

RESTARTS: tuple[Parameter, ...] = (
    held("zone_slack", 0.5, "m", 0.0, 1.5, "a player this little outside his zone does not mind"),
    held("entry_inset", 1.0, "m", 0.3, 2.0, "how far into his zone a player runs who comes back to defend it"),
    held("entry_cap", 0.95, "1", 0.8, 0.98, "share of top speed not exceeded on the way back into the own zone"),
    held("shape_inset", 0.5, "m", 0.2, 1.0, "how far inside his zone a player's own place lies"),
    held("wait_effort", 0.5, "1", 0.3, 0.8, "share of the greatest push used by players who wait for their turn"),
    held(
        "dead_apart",
        1.5,
        "m",
        0.0,
        4.0,
        "while the ball is out of play a player goes faster to his place whose mate stands nearer than this",
    ),
    held("dead_apart_pace", 1.2, "m/s", 1.0, 4.0, "how fast"),
    held("dead_effort", 0.6, "1", 0.3, 0.9, "share of the greatest push used while the ball is out of play"),
    held(
        "dead_time_spare",
        1.0,
        "s",
        0.0,
        2.0,
        "how long before the ball is in play again a player means to be in his place",
    ),
    held("dead_time_least", 0.5, "s", 0.2, 1.0, "nobody hurries to his place as if he had less time than this"),
    held("taker_effort", 0.8, "1", 0.5, 1.0, "share of the greatest push used by whoever goes to take a restart"),
    held("taker_reaction", 0.3, "s", 0.1, 1.0, "how long the taker of a restart waits before he sets off"),
    held("taker_early", 1.0, "s", 0.0, 2.0, "how long before the ball is in play its taker means to be there"),
    held("taker_time_least", 0.8, "s", 0.3, 2.0, "least time that the taker of a restart reckons with"),
    held("taker_slowest", 2.0, "m/s", 1.0, 3.0, "slowest run to take a restart"),
    held("spot_inset", 0.2, "m", 0.0, 0.5, "a ball that went out is put in play this far inside the line"),
    held("start_spread", 0.6, "m", 0.0, 2.0, "free players begin up to half of this off their places"),
    held("apart_inset", 0.3, "m", 0.0, 0.8, "who makes room at a start keeps this far inside his zone"),
)
