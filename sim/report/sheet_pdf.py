"""The assistant's sheet as a PDF of one A4 side, set without a browser (fpdf2, which is all Python).

The letters are as large as fits, and the page is refused where they would be too small to read at arm's length.
"""

from __future__ import annotations

import datetime
import io
from bisect import bisect_left
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from functools import partial
from typing import cast

from fpdf import FPDF
from fpdf.enums import XPos, YPos
from fpdf.fonts import TTFFont

from sim.errors import InputError
from sim.plots.fonts import font_file, missing
from sim.words.diagram_words import no_letters
from sim.words.sheet import BLANKS, NO_ROOM, Section, Sheet, without_triggers

WIDE, HIGH, MARGIN, GUTTER = 210.0, 297.0, 10.0, 5.0  # mm
LARGEST, COMFORTABLE, SMALLEST, STEP = 10.0, 8.0, 7.0, 0.25
"""Points: the largest that fits.  Below what is comfortable sections move to where there is room; below the smallest nobody reads
it at arm's length."""
TALLEST, NARROWEST = 84.0, 72.0  # mm: the picture as high as this, unless its own letters would fall below five points
LEAD = 1.22  # lines apart, in letters
POINT = 25.4 / 72.0  # mm
TITLE, PURPOSE, HEAD, LESS, BLANK = 1.6, 1.1, 1.15, 0.9, 1.4  # of the size: letters, and the line to be filled in
BULLET = "\N{BULLET}"
INDENT, GAP = 0.82, 0.4  # of the height of a letter
ROW = 6.0  # mm: a row of the grid has room for a pencil
SHARES = {"date": 1.2, "bout": 0.8, "minutes": 1.3, "clock": 1.0, "changed": 2.2, "players": 1.2}
COUNT = 1.65  # the share of a column that is counted in
FONT = "DejaVu"
INK, RULE = (29, 29, 27), (120, 120, 115)
UNDATED = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)  # the same sheet is the same file


@dataclass(frozen=True)
class Setting:
    """How a sheet fits its side: letters of so many points, and which sections stand under the picture, which beside it."""

    points: float
    left: tuple[Section, ...]
    right: tuple[Section, ...]
    picture_mm: float


def setting_of(sheet: Sheet, ratio: float, spare: int = 0) -> Setting:
    """The largest letters in which the sheet fits one side; refused where they would be too small.  `ratio` of the picture's height
    to its width; `spare`: lines to be kept free for what is not known yet."""
    texts = [
        sheet.title,
        sheet.purpose,
        sheet.source,
        *(line for one in sheet.sections for line in one.lines),
        *sheet.foot,
    ]
    if strange := missing(texts):
        raise InputError(no_letters(strange), "names")
    with closing(Setter(sheet, ratio)) as setter:
        for even, least in ((False, COMFORTABLE), (True, SMALLEST)):
            sizes = [LARGEST - k * STEP for k in range(1 + round((LARGEST - least) / STEP))]
            first = bisect_left(sizes, True, key=partial(setter.fits, even=even, spare=spare))
            if first < len(sizes):
                setter.size = sizes[first]
                left, right, _ = setter.arranged(even)
                return Setting(setter.size, left, right, setter.picture_wide())
    raise InputError(NO_ROOM, sheet.title)


def fitted(sheet: Sheet, ratio: float) -> Sheet:
    """The sheet; where it has no room on its side, without what makes the game easier or harder."""
    try:
        setting_of(sheet, ratio)
    except InputError:
        return without_triggers(sheet)
    return sheet


def sheet_pdf(sheet: Sheet, png: bytes, ratio: float) -> bytes:
    """The sheet as it is printed."""
    return sheets_pdf([(sheet, png, ratio)])


def sheets_pdf(sheets: Sequence[tuple[Sheet, bytes, float]]) -> bytes:
    """Sheets, each with its picture and the ratio of that, a side each."""
    settings = [setting_of(sheet, ratio) for sheet, _, ratio in sheets]
    (first, _, ratio), *_ = sheets
    with closing(Setter(first, ratio, settings[0].points)) as setter:
        for i, ((sheet, png, ratio), found) in enumerate(zip(sheets, settings, strict=True)):
            if i > 0:
                setter.turn_to(sheet, ratio, found.points)
            setter.draw_sheet(png, found)
        return bytes(setter.pdf.output())


class Setter:
    """Sets one sheet in letters of one size, and says beforehand how high that is."""

    def __init__(self, sheet: Sheet, ratio: float, size: float = LARGEST):
        self.sheet, self.ratio, self.size = sheet, ratio, size
        self.wide = (WIDE - 2 * MARGIN - GUTTER) / 2
        self.whole = WIDE - 2 * MARGIN
        self.pdf = FPDF(format="A4", unit="mm")
        self.pdf.set_creation_date(UNDATED)
        self.pdf.set_title(sheet.title)
        self.pdf.set_lang("en")
        self.pdf.set_margin(0)
        self.pdf.c_margin = 0
        self.pdf.set_auto_page_break(False)
        for style, bold in (("", False), ("B", True)):
            self.pdf.add_font(FONT, style, str(font_file(bold)))
        self.pdf.add_page()
        self.pdf.set_text_color(*INK)
        self.pdf.set_draw_color(*RULE)

    def turn_to(self, sheet: Sheet, ratio: float, size: float) -> None:
        """Begin a new side for another sheet."""
        self.sheet, self.ratio, self.size = sheet, ratio, size
        self.pdf.add_page()

    def close(self) -> None:
        """Close the files of the fonts, which fpdf2 keeps open."""
        for font in self.pdf.fonts.values():
            if isinstance(font, TTFFont):
                font.close()

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

    def text_tall(self, text: str, wide: float, share: float = 1.0, bold: bool = False) -> float:
        """How high a text is in lines of this width, in mm."""
        self.pdf.set_font(FONT, "B" if bold else "", share * self.size)
        found = self.pdf.multi_cell(wide, self.line_mm(share), text, align="L", dry_run=True, output="HEIGHT")
        return cast(float, found)  # the library's type names everything that any `output` gives

    def section_tall(self, section: Section) -> float:
        """How high a section is in its column, in mm."""
        lines = sum(self.text_tall(line, self.wide - self.indent) for line in section.lines)
        return self.text_tall(section.heading, self.wide, HEAD, True) + lines + self.gap

    def picture_wide(self) -> float:
        """The width of the picture, in mm."""
        return min(self.wide, max(NARROWEST, TALLEST / self.ratio))

    def arranged(self, even: bool) -> tuple[tuple[Section, ...], tuple[Section, ...], float]:
        """(sections under the picture, sections beside it, how high both are): where each stands on every sheet, or, where room
        is short, as `even` as can be with the order kept."""
        sections = self.sheet.sections
        talls = [self.section_tall(one) for one in sections]
        first = self.picture_wide() * self.ratio + self.gap

        def high(right: int) -> float:
            beside = sum(tall for k, tall in enumerate(talls) if right >> k & 1)
            return round(max(first + sum(talls) - beside, beside), 3)

        def usual(right: int) -> bool:
            return all(one.beside in (None, bool(right >> k & 1)) for k, one in enumerate(sections))

        choices = [one for one in range(1 << len(sections)) if even or usual(one)]
        right = min(choices, key=lambda one: (high(one), one))
        chosen = [bool(right >> k & 1) for k in range(len(sections))]
        left = tuple(one for one, there in zip(sections, chosen, strict=True) if not there)
        return left, tuple(one for one, there in zip(sections, chosen, strict=True) if there), high(right)

    def fits(self, size: float, even: bool, spare: int) -> bool:
        """Whether the sheet fits one side in letters of this size (points), with so many lines to spare."""
        self.size = size
        _, _, tall = self.arranged(even)
        return MARGIN + self.head_tall() + tall + self.foot_tall() + self.line_mm(spare) <= HIGH - MARGIN

    def head_tall(self) -> float:
        """How high title, purpose and the line to be filled in are, in mm."""
        title = self.text_tall(self.sheet.title, self.whole, TITLE, True)
        return title + self.text_tall(self.sheet.purpose, self.whole, PURPOSE) + self.line_mm(BLANK) + 2 * self.gap

    def foot_tall(self) -> float:
        """How high everything under the columns is, in mm."""
        said = sum(self.text_tall(text, self.whole) for text in self.count_lines())
        small = sum(self.text_tall(text, self.whole, LESS) for text in self.small_print())
        return self.line_mm(HEAD) + said + small + ROW * len(self.sheet.tally) + 3 * self.gap

    def count_lines(self) -> list[str]:
        """What is to be counted, a line each."""
        return [f"{name}: {what}" for name, what in self.sheet.counts]

    def small_print(self) -> tuple[str, ...]:
        """What stands under the grid in smaller letters."""
        return (" ".join(self.sheet.beside), self.sheet.source, *self.sheet.foot)

    # drawing

    def draw_sheet(self, png: bytes, found: Setting) -> None:
        """The whole sheet, with its picture."""
        y = self.draw_head(MARGIN)
        x, wide = MARGIN + (self.wide - found.picture_mm) / 2, found.picture_mm
        self.pdf.image(io.BytesIO(png), x=x, y=y, w=wide, alt_text=self.sheet.picture)
        left = self.draw_column(found.left, MARGIN, y + wide * self.ratio + self.gap)
        right = self.draw_column(found.right, MARGIN + self.wide + GUTTER, y)
        self.draw_foot(max(left, right))

    def write(self, x: float, y: float, wide: float, text: str, share: float = 1.0, bold: bool = False) -> float:
        """Write a text; gives back where it ends."""
        self.pdf.set_font(FONT, "B" if bold else "", share * self.size)
        self.pdf.set_xy(x, y)
        self.pdf.multi_cell(wide, self.line_mm(share), text, align="L", new_x=XPos.LEFT, new_y=YPos.NEXT)
        return self.pdf.get_y()

    def draw_head(self, y: float) -> float:
        """Title, purpose and the line to be filled in, from `y` (mm) on; gives back where they end."""
        y = self.write(MARGIN, y, self.whole, self.sheet.title, TITLE, True)
        y = self.write(MARGIN, y, self.whole, self.sheet.purpose, PURPOSE) + self.gap
        self.draw_blanks(y)
        return y + self.line_mm(BLANK) + self.gap

    def draw_blanks(self, y: float) -> None:
        """What is filled in by hand."""
        parts = sum(share for _, share in BLANKS)
        x, base = MARGIN, y + self.line_mm()
        for name, share in BLANKS:
            wide = self.whole * share / parts
            self.write(x, base - self.line_mm(), wide, name)
            start = x + self.pdf.get_string_width(name) + 2.0
            self.pdf.line(start, base, x + wide - 3.0, base)
            x += wide

    def draw_column(self, sections: Sequence[Section], x: float, y: float) -> float:
        """Sections one under the other; gives back where they end."""
        for one in sections:
            y = self.write(x, y, self.wide, one.heading, HEAD, True)
            for text in one.lines:
                self.write(x, y, self.indent, BULLET)
                y = self.write(x + self.indent, y, self.wide - self.indent, text)
            y += self.gap
        return y

    def draw_foot(self, y: float) -> None:
        """What is counted, the grid to count in, and the small print."""
        self.pdf.line(MARGIN, y, WIDE - MARGIN, y)
        y = self.write(MARGIN, y + self.gap, self.whole, self.sheet.counting, HEAD, True)
        for text in self.count_lines():
            y = self.write(MARGIN, y, self.whole, text)
        y = self.draw_grid(y + self.gap) + self.gap
        for text in self.small_print():
            y = self.write(MARGIN, y, self.whole, text, LESS)

    def draw_grid(self, y: float) -> float:
        """A row a bout, with a box for each count; gives back where it ends."""
        heads = self.sheet.tally[0]
        shares = [SHARES.get(head, COUNT) for head in heads]
        wides = [self.whole * share / sum(shares) for share in shares]
        for row in self.sheet.tally:
            x = MARGIN
            for text, wide in zip(row, wides, strict=True):
                self.pdf.rect(x, y, wide, ROW)
                self.write(x + 1.0, y + (ROW - self.line_mm()) / 2, wide - 1.0, text, 1.0, row is heads)
                x += wide
            y += ROW
        return y
