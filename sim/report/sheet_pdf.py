"""The sheet as a PDF, set without a browser (fpdf2, which is all Python)."""

from __future__ import annotations

import datetime
import io
from collections.abc import Sequence

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from sim.report.sheet_setting import (
    COLUMN,
    FONT,
    GAP,
    HEAD,
    INDENT,
    LEAD,
    LESS,
    MARGIN,
    POINT,
    PURPOSE,
    ROW,
    SMALLEST,
    TITLE,
    WHOLE,
    WIDE,
    Line,
    Setting,
    close_fonts,
    count_lines,
    opened,
    small_print,
)
from sim.words.sheet import BLANKS, Sheet, overleaf

BULLET = "\N{BULLET}"
SHARES = {"date": 1.2, "bout": 0.8, "minutes": 1.3, "clock": 1.0, "changed": 2.0, "players": 1.2}
COUNT = 1.75  # the share of a column that is counted in
INK, RULE = (29, 29, 27), (120, 120, 115)
UNDATED = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)  # the same sheet is the same file


def sheet_pdf(sheet: Sheet, setting: Setting) -> bytes:
    """The sheet as it is printed."""
    return sheets_pdf([(sheet, setting)])


def sheets_pdf(sheets: Sequence[tuple[Sheet, Setting]]) -> bytes:
    """Sheets as they are set, each on sides of its own."""
    pdf = opened()
    pdf.set_creation_date(UNDATED)
    pdf.set_title(sheets[0][0].title)
    pdf.set_lang("en")
    pdf.set_text_color(*INK)
    pdf.set_draw_color(*RULE)
    try:
        for sheet, setting in sheets:
            Printer(pdf, sheet, setting).print_sheet()
        return bytes(pdf.output())
    finally:
        close_fonts(pdf)


class Printer:
    """Prints one sheet as it has been set."""

    def __init__(self, pdf: FPDF, sheet: Sheet, setting: Setting):
        self.pdf, self.sheet, self.setting = pdf, sheet, setting
        self.size = setting.points
        self.gap, self.indent = GAP * self.size * POINT, INDENT * self.size * POINT

    def line_mm(self, share: float = 1.0) -> float:
        """The height of a line, in mm; `share`: of the size of the letters."""
        return LEAD * share * self.size * POINT

    def print_sheet(self) -> None:
        """All sides, with the picture."""
        png, ratio = self.setting.picture
        wide = self.setting.picture_mm
        for k, side in enumerate(self.setting.sides):
            self.pdf.add_page()
            if k > 0:
                self.write(MARGIN, MARGIN, WHOLE, overleaf(self.sheet, k + 1), HEAD, True)
            if side.picture is not None:
                self.draw_head(MARGIN)
                x = (WIDE - wide) / 2
                self.pdf.image(
                    io.BytesIO(png), x=x, y=side.picture, w=wide, h=wide * ratio, alt_text=self.sheet.picture
                )
            for one in side.lines:
                self.draw_line(one.x, one.y, one.line)
            if side.foot is not None:
                self.draw_foot(side.foot)

    def write(self, x: float, y: float, wide: float, text: str, share: float = 1.0, bold: bool = False) -> float:
        """Write a text; gives back where it ends."""
        self.pdf.set_font(FONT, "B" if bold else "", share * self.size)
        self.pdf.set_xy(x, y)
        self.pdf.multi_cell(wide, self.line_mm(share), text, align="L", new_x=XPos.LEFT, new_y=YPos.NEXT)
        return self.pdf.get_y()

    def draw_line(self, x: float, y: float, line: Line) -> None:
        """One line of a column."""
        self.pdf.set_font(FONT, "B" if line.heading else "", (HEAD if line.heading else 1.0) * self.size)
        high = self.line_mm(HEAD if line.heading else 1.0)
        if line.bullet:
            self.pdf.set_xy(x, y)
            self.pdf.cell(self.indent, high, BULLET)
        self.pdf.set_xy(x if line.heading else x + self.indent, y)
        self.pdf.cell(COLUMN, high, line.text)

    def draw_head(self, y: float) -> None:
        """Title, purpose and the line to be filled in, from `y` (mm) on."""
        y = self.write(MARGIN, y, WHOLE, self.sheet.title, TITLE, True)
        y = self.write(MARGIN, y, WHOLE, self.sheet.purpose, PURPOSE) + self.gap
        parts = sum(share for _, share in BLANKS)
        x, base = MARGIN, y + self.line_mm()
        for name, share in BLANKS:
            wide = WHOLE * share / parts
            self.write(x, base - self.line_mm(), wide, name)
            start = x + self.pdf.get_string_width(name) + 2.0
            self.pdf.line(start, base, x + wide - 3.0, base)
            x += wide

    def draw_foot(self, y: float) -> None:
        """What is counted, the grid to count in, and the small print."""
        self.pdf.line(MARGIN, y, WIDE - MARGIN, y)
        y = self.write(MARGIN, y + self.gap, WHOLE, self.sheet.counting, HEAD, True)
        for text in count_lines(self.sheet):
            y = self.write(MARGIN, y, WHOLE, text)
        y = self.draw_grid(y + self.gap) + self.gap
        for text in small_print(self.sheet):
            y = self.write(MARGIN, y, WHOLE, text)
        self.write(MARGIN, y, WHOLE, self.sheet.source, LESS)

    def draw_grid(self, y: float) -> float:
        """A row a bout, with a box for each count; gives back where it ends."""
        heads = self.sheet.tally[0]
        shares = [SHARES.get(head, COUNT) for head in heads]
        wides = [WHOLE * share / sum(shares) for share in shares]
        for row in self.sheet.tally:
            x = MARGIN
            for text, wide in zip(row, wides, strict=True):
                self.pdf.rect(x, y, wide, ROW)
                self.write(
                    x + 1.0, y + (ROW - self.line_mm()) / 2, wide - 1.0, text, SMALLEST / self.size, row is heads
                )
                x += wide
            y += ROW
        return y
