"""What is said about several areas: passes from one to another, and the ball on or over the line between two."""

from __future__ import annotations

from sim.game.borders import apart, plays_across, touching
from sim.game.model import Area, Game, Rule


def played_across(rule: Rule) -> str:
    """When a rule about transfers fires."""
    start = "" if rule.from_area is None else f" from {rule.from_area}"
    end = " to another area" if rule.to_area is None else f" to {rule.to_area}"
    if rule.by is not None:
        return f"When {rule.by} play the ball{start}{end} and have it under control there"
    return f"When a side plays the ball{start}{end} and has it under control there"


def _pairs(pairs: tuple[tuple[Area, Area], ...]) -> str:
    words = [f"between {one.name} and {other.name}" for one, other in pairs]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def between(game: Game) -> list[str]:
    """What holds for a ball over a line that has another area beyond it; nothing where that cannot be."""
    side_by_side, with_a_gap = touching(game), apart(game)
    if not side_by_side and not with_a_gap:
        return []
    if game.between_areas == "out":
        line = "A ball over the line of its area is out, towards another area too."
        if plays_across(game):
            line += (
                " Only a pass to another area may leave: it has to be brought under control inside that area, and is out if "
                "anybody touches it, or it stops, in between."
            )
        return [line]
    lines = []
    if side_by_side:
        lines.append(f"The line {_pairs(side_by_side)} is not out: whoever gets to the ball first has it{_there(game)}")
    if with_a_gap:
        lines.append(
            f"The ground {_pairs(with_a_gap)} is in play only while the ball is being played across: whoever gets there first has "
            "it, as if it were still in the area it left."
        )
    return lines


def _there(game: Game) -> str:
    """Where play goes on with a ball that has rolled into another area."""
    moving = [phase.name for phase in game.phases if phase.ball_in == "active"]
    if not moving:
        return "."
    when = "" if len(moving) == len(game.phases) else f" (in {' and '.join(moving)})"
    return f", and play goes on there{when}. That alone does not count as played across."
