"""What stands under the ground of a diagram: who is who, each with the badge, the balls, what unlocks what, and the source."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim import __version__
from sim.game.model import Game
from sim.plots.badges import DIAMETER, Look
from sim.plots.bibs import wardrobe
from sim.plots.ground import WIDTH
from sim.plots.look import INK, wrapped
from sim.plots.page import inches
from sim.words import diagram_words as words
from sim.words.ground_words import as_drawn

MARGIN = 0.1
KEEPER = 1.35  # of the size of the badge
TEXT = 7.5
GAP = 0.035  # inches between two paragraphs below the ground
INDENT = 0.17  # inches for the badge before a line of the key


def foot_of(game: Game, changes: Sequence[str], page: float = WIDTH) -> list[tuple[Look | None, str]]:
    """The paragraphs below the ground, in lines, each with the badge before it."""
    worn = wardrobe(game)
    room = page - 2 * MARGIN
    tell = as_drawn(game)
    found: list[tuple[Look | None, str]] = [
        (
            (worn.keeper if group.keeper else worn.look)(group.side, group.team),
            wrapped(tell(group.text), room - INDENT, TEXT),
        )
        for group in words.groups_of(game)
    ]
    told = words.unlocking(game)
    plain = [words.stock(game), *words.played_on(game), *([f"{words.UNLOCKS}:"] if told else [])]
    plain += [*(f"- {line}" for line in told), words.PACE]
    lines = [*(tell(line) for line in plain), words.source(game.name, changes, __version__)]
    return found + [(None, wrapped(line, room, TEXT)) for line in lines]


def write_foot(figure: Figure, foot: Sequence[tuple[Look | None, str]], top: float) -> None:
    """The paragraphs from `top` (a share of the page) downwards."""
    at = top
    page, tall = figure.get_size_inches()
    for badge, text in foot:
        x = (MARGIN + (INDENT if badge else 0.0)) / page
        figure.text(x, at, text, ha="left", va="top", size=TEXT, linespacing=1.2, parse_math=False)
        if badge:
            axis = figure.add_axes((MARGIN / page, at - 0.135 / tall, 0.13 / page, 0.13 / tall))
            axis.set_axis_off()
            axis.set(xlim=(-1, 1), ylim=(-1, 1))
            draw_badge(axis, 0.0, 0.0, badge, 0.7)
        at -= (inches(text, TEXT) + GAP) / tall


def draw_badge(axis: Axes, x: float, y: float, own: Look, share: float) -> None:
    """A badge; a keeper's own colour stands inside the bib of his side."""
    size = share * own.size * (DIAMETER - 1.5)
    marks = [(own.fill, KEEPER * size, 6.5), (own.inner, size, 7)] if own.inner else [(own.fill, size, 7)]
    for fill, wide, above in marks:
        axis.plot(
            [x], [y], own.mark, color=INK, markerfacecolor=fill, markersize=wide, markeredgewidth=1.0, zorder=above,
            clip_on=False,
        )  # fmt: skip
