"""How a sheet is set: on both sides of one A4, in letters that can be read on the grass; on more only where there is no room.

Nothing is ever cut off, and nothing that is read on the grass is smaller than `SMALLEST`: the first side is for laying out, with
a large picture, the other for running the game and counting.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass

from fpdf import FPDF
from fpdf.fonts import TTFFont

from sim.errors import InputError
from sim.plots.fonts import font_file, missing
from sim.plots.on_sheet import Draw, Picture
from sim.words.diagram_words import no_letters
from sim.words.sheet import LAY, Section, Sheet

WIDE, HIGH, MARGIN, GUTTER = 210.0, 297.0, 10.0, 5.0  # mm
LARGEST, SMALLEST, STEP = 10.5, 9.5, 0.5
"""Points: the largest that fits; below the smallest nobody reads it at arm's length on the grass."""
PICTURES_MM = (142.0, 126.0, 110.0)
"""How wide the picture is: the largest with which the sheet fits two sides; its letters stay as large as those of the sheet."""
SIDES = 2
LEAD = 1.22  # lines apart, in letters
POINT = 25.4 / 72.0  # mm
TITLE, PURPOSE, HEAD, LESS, BLANK = 1.6, 1.1, 1.15, 0.85, 1.4  # of the size: letters, and the line to be filled in
INDENT, GAP = 0.82, 0.4  # of the height of a letter
ROW = 6.0  # mm: a row of the grid has room for a pencil
TOO_LONG_MM = 60.0  # a paragraph that is longer may be broken at the foot of a column
FONT = "DejaVu"
COLUMN = (WIDE - 2 * MARGIN - GUTTER) / 2
WHOLE = WIDE - 2 * MARGIN
LEFT = (MARGIN, MARGIN + COLUMN + GUTTER)
"""Where the two columns begin, mm from the left edge."""


@dataclass(frozen=True)
class Line:
    """One line of a column: its text, whether it is a heading, and whether a bullet stands before it."""

    text: str
    heading: bool = False
    bullet: bool = False


Block = tuple[Line, ...]
"""Lines that stay together; without any: a gap between two sections."""


@dataclass(frozen=True)
class Placed:
    """A line on its side: where it begins, in mm."""

    x: float
    y: float
    line: Line


@dataclass(frozen=True)
class Side:
    """One side of A4: its lines, where the picture begins, and where what is counted begins (mm; None: not here)."""

    lines: tuple[Placed, ...]
    picture: float | None = None
    foot: float | None = None


@dataclass(frozen=True)
class Setting:
    """How a sheet is set: letters of so many points, its picture so wide, and side after side what stands where.

    `parts`: the sections for laying it out, and those for running it.
    """

    points: float
    picture: Picture
    picture_mm: float
    parts: tuple[tuple[Section, ...], tuple[Section, ...]]
    sides: tuple[Side, ...]


def setting_of(sheet: Sheet, draw: Draw) -> Setting:
    """The largest letters in which the sheet fits two sides; else the smallest, with the first section of those overleaf on the
    first side and as large a picture as leaves room for it; at last on as many sides as it takes.  Refused where there are letters
    that the font does not have."""
    require_letters(sheet)
    sizes = [LARGEST - k * STEP for k in range(1 + round((LARGEST - SMALLEST) / STEP))]
    largest = PICTURES_MM[0]
    picture = draw(largest, SMALLEST)
    with closing(Setter(sheet)) as setter:
        first = bisect_left(sizes, True, key=lambda size: len(setter.set_in(size, picture, largest).sides) == SIDES)
        if first < len(sizes):
            whole = setter.set_in(sizes[first], picture, largest)
            ways = (setter.set_in(sizes[first], draw(wide, SMALLEST), wide) for wide in PICTURES_MM[1:])
            return whole if setter.laid_out(whole) else next((one for one in ways if setter.laid_out(one)), whole)
        for wide in PICTURES_MM:
            found = setter.set_in(SMALLEST, draw(wide, SMALLEST), wide, early=1)
            if len(found.sides) == SIDES:
                return found
        return setter.set_in(SMALLEST, picture, largest)


def require_letters(sheet: Sheet) -> None:
    """Refuse letters that the font has no picture of."""
    texts = [sheet.title, sheet.purpose, sheet.source, *sheet.foot]
    if strange := missing([*texts, *(line for one in sheet.sections for line in one.lines)]):
        raise InputError(no_letters(strange), "names")


def opened() -> FPDF:
    """A PDF of A4 with our letters, without a page."""
    pdf = FPDF(format="A4", unit="mm")
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.set_auto_page_break(False)
    for style, bold in (("", False), ("B", True)):
        pdf.add_font(FONT, style, str(font_file(bold)))
    return pdf


def close_fonts(pdf: FPDF) -> None:
    """Close the files of the fonts, which fpdf2 keeps open."""
    for font in pdf.fonts.values():
        if isinstance(font, TTFFont):
            font.close()


class Setter:
    """Measures one sheet in letters of a size, and says what stands where."""

    def __init__(self, sheet: Sheet):
        self.sheet, self.size = sheet, LARGEST
        self.known: dict[tuple[str, float, float, bool, float], list[str]] = {}
        self.pdf = opened()
        self.pdf.add_page()

    def close(self) -> None:
        """Close the files of the fonts."""
        close_fonts(self.pdf)

    # measures

    def line_mm(self, share: float = 1.0) -> float:
        """The height of a line, in mm; `share`: of the size of the letters."""
        return LEAD * share * self.size * POINT

    @property
    def gap(self) -> float:
        """Between two parts, in mm."""
        return GAP * self.size * POINT

    @property
    def indent(self) -> float:
        """Room for a bullet before its lines, in mm."""
        return INDENT * self.size * POINT

    def lines(self, text: str, wide: float, share: float = 1.0, bold: bool = False) -> list[str]:
        """A text in lines of so many mm."""
        asked = (text, wide, share, bold, self.size)
        if asked not in self.known:
            self.known[asked] = self.broken(text, wide, share, bold)
        return self.known[asked]

    def broken(self, text: str, wide: float, share: float, bold: bool) -> list[str]:
        """A text in lines, as the library breaks it."""
        self.pdf.set_font(FONT, "B" if bold else "", share * self.size)
        found = self.pdf.multi_cell(wide, self.line_mm(share), text, align="L", dry_run=True, output="LINES")
        return [str(one) for one in found]  # type: ignore[union-attr]  # the library names everything that any `output` gives

    def tall(self, text: str, share: float = 1.0, bold: bool = False) -> float:
        """How high a text is across the whole side, in mm."""
        return len(self.lines(text, WHOLE, share, bold)) * self.line_mm(share)

    def head_tall(self) -> float:
        """How high title, purpose and the line to be filled in are, in mm."""
        words = self.tall(self.sheet.title, TITLE, True) + self.tall(self.sheet.purpose, PURPOSE)
        return words + self.line_mm(BLANK) + 2 * self.gap

    def foot_tall(self) -> float:
        """How high everything under the columns is, in mm."""
        said = sum(self.tall(text) for text in (*count_lines(self.sheet), *small_print(self.sheet)))
        grid = self.line_mm(HEAD) + ROW * len(self.sheet.tally)
        return grid + said + self.tall(self.sheet.source, LESS) + 3 * self.gap

    def blocks(self, section: Section) -> list[Block]:
        """A section as blocks for a column: its heading with the first paragraph, then a paragraph each, then a gap."""
        found: list[Block] = []
        head = tuple(Line(one, heading=True) for one in self.lines(section.heading, COLUMN, HEAD, True))
        for text in section.lines:
            parts = self.lines(text, COLUMN - self.indent)
            lines = tuple(Line(one, bullet=k == 0) for k, one in enumerate(parts))
            if self.line_mm() * len(lines) > TOO_LONG_MM:
                found += [(*head, *lines[:2]), *((one,) for one in lines[2:])]
            else:
                found.append((*head, *lines))
            head = ()
        return [*found, ()]

    def block_tall(self, block: Block) -> float:
        """How high a block is, in mm."""
        return sum(self.line_mm(HEAD if one.heading else 1.0) for one in block) or self.gap

    def placed(self, block: Block, x: float, y: float) -> list[Placed]:
        """The lines of a block from a place downwards."""
        found = []
        for line in block:
            found.append(Placed(x, y, line))
            y += self.line_mm(HEAD if line.heading else 1.0)
        return found

    def laid_out(self, found: Setting) -> bool:
        """Whether the first side has all that is needed to lay the game out, and no more sides are needed for it."""
        told = sum(len(block) for one in found.parts[0] for block in self.blocks(one))
        return len(found.sides[0].lines) == told and len(found.sides) == SIDES

    # what stands where

    def set_in(self, size: float, picture: Picture, wide_mm: float, early: int = 0) -> Setting:
        """The sheet with its picture, so wide, and what is laid out on the first side, the rest overleaf; so many sections of the
        rest `early`, on the first side."""
        self.size = size
        lay = tuple(one for one in self.sheet.sections if one.side == LAY)
        rest = tuple(one for one in self.sheet.sections if one.side != LAY)
        lay, run = lay + rest[:early], rest[early:]
        top = MARGIN + self.head_tall()
        wide = min(wide_mm, (HIGH - MARGIN - top - self.gap) / picture[1])
        under = top + wide * picture[1] + self.gap
        blocks = [block for one in lay for block in self.blocks(one)]
        lines, left = self.flow(blocks, under, self.least(blocks, under, HIGH - MARGIN) or HIGH - MARGIN)
        sides = [Side(tuple(lines), top)]
        left = [*left, *(block for one in run for block in self.blocks(one))]
        begin = MARGIN + self.line_mm(HEAD) + self.gap  # under the title, which every side has
        while left:
            if (bottom := self.least(left, begin, HIGH - MARGIN - self.foot_tall())) is not None:
                lines, left = self.flow(left, begin, bottom)
                sides.append(Side(tuple(lines), None, bottom))
            else:
                lines, left = self.flow(left, begin, HIGH - MARGIN)
                sides.append(Side(tuple(lines)))
        if sides[-1].foot is None:
            sides.append(Side((), None, begin))
        return Setting(size, picture, wide, (lay, run), tuple(sides))

    def least(self, blocks: Sequence[Block], top: float, lowest: float) -> float | None:
        """How far down two columns of these blocks go at least, in mm from the top of the side; None: there is no room."""
        bottoms = [top + mm for mm in range(1 + max(0, int(lowest - top)))]
        first = bisect_left(bottoms, True, key=lambda bottom: not self.flow(blocks, top, bottom)[1])
        return bottoms[first] if first < len(bottoms) else None

    def flow(self, blocks: Sequence[Block], top: float, bottom: float) -> tuple[list[Placed], list[Block]]:
        """(what stands in two columns between these heights, what is left)."""
        found: list[Placed] = []
        column, y = 0, top
        for k, block in enumerate(blocks):
            if not block and y == top:
                continue  # no gap at the head of a column
            tall = self.block_tall(block)
            if block and y + tall > bottom:
                column, y = column + 1, top
            if column == len(LEFT) or (block and y + tall > bottom):
                return found, list(blocks[k:])
            found += self.placed(block, LEFT[column], y)
            y += tall
        return found, []


def count_lines(sheet: Sheet) -> list[str]:
    """What is to be counted, a line each."""
    return [f"{name}: {what}" for name, what in sheet.counts]


def small_print(sheet: Sheet) -> tuple[str, ...]:
    """What stands under the grid, but for what made it."""
    return (" ".join(sheet.beside), *sheet.foot)
