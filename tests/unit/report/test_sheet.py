"""The sheet as PDF (read back with pypdf) and as a page (opened and printed in a real browser): both sides of one A4, or more.

A4 is 210 x 297 mm (ISO 216).  Contrast: WCAG 2.1, success criterion 1.4.3 (AA: 4.5 to 1 for text).
"""

from __future__ import annotations

import base64
import io
import re
from dataclasses import replace
from functools import cache
from html import unescape
from pathlib import Path

import pytest
from matplotlib.text import Text
from PIL import Image
from pypdf import PdfReader

from sim.errors import InputError
from sim.game.loader import load_game, resolve, to_short
from sim.plots.diagram import diagram_figure
from sim.plots.on_sheet import DOTS, drawing
from sim.plots.page import our_settings
from sim.report.sheet import sheet_page
from sim.report.sheet_pdf import sheet_pdf
from sim.report.sheet_setting import HIGH, MARGIN, POINT, SMALLEST, setting_of
from sim.words.sheet import BLANKS, TRIGGERS, Sheet, overleaf, sheet_of
from tests.support.browser import CHROMIUM, DRIVER, FAINTEST, MISSING, address, browser, screen
from tests.support.games import GAMES

in_browser = pytest.mark.skipif(not (CHROMIUM and DRIVER), reason=MISSING)
A4_POINTS = (210 / 25.4 * 72, 297 / 25.4 * 72)
WORST = '<script>document.title="caught"</script><b>&"\''


@cache
def made(name: str) -> tuple[Sheet, bytes, str]:
    game = load_game(name)
    sheet = sheet_of(game, "0")
    pdf = sheet_pdf(sheet, setting_of(sheet, drawing(game, "png")))
    return sheet, pdf, sheet_page(sheet, setting_of(sheet, drawing(game, "svg")))


def text_of(pdf: bytes) -> str:
    """What stands on all its sides."""
    return squeezed(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages))


def squeezed(text: str) -> str:
    """Without spaces: where lines break is the page's business."""
    return re.sub(r"\s+", "", text)


def words(sheet: Sheet) -> list[str]:
    """Everything that is printed."""
    sections = [part for one in sheet.sections for part in (one.heading, *one.lines)]
    counts = [f"{name}: {what}" for name, what in sheet.counts]
    cells = [cell for row in sheet.tally for cell in row if cell]
    return [sheet.title, sheet.purpose, sheet.source, *sections, sheet.counting, *counts, *cells, *sheet.beside, *sheet.foot,
            *(name for name, _ in BLANKS)]  # fmt: skip


@pytest.mark.parametrize("name", GAMES)
def test_the_pdf_is_both_sides_of_one_a4_with_all_the_words(name: str):
    sheet, pdf, _ = made(name)
    pages = PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == 2
    for page in pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4_POINTS, abs=0.1)
    found = text_of(pdf)
    assert [one for one in words(sheet) if squeezed(one) not in found] == []
    assert [len(page.images) for page in pages] == [1, 0]
    assert squeezed(pages[1].extract_text()).startswith(squeezed(overleaf(sheet, 2)))


@pytest.mark.parametrize("name", GAMES)
def test_nothing_is_printed_below_the_margin_nor_too_small_to_read(name: str):
    sheet, pdf, _ = made(name)
    lows, sizes = [], {}

    def seen(text, cm, tm, font, size):
        if text.strip():
            lows.append(cm[5] + tm[5])
            sizes.setdefault(round(size, 2), []).append(text.strip())

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=seen)
    assert min(lows) >= 10 / 25.4 * 72 - 1
    small = " ".join(text for size, texts in sizes.items() if size < SMALLEST for text in texts)
    assert squeezed(small) in ("", squeezed(sheet.source)), "what made it is not read on the grass"


def test_the_letters_of_the_picture_are_as_large_as_those_of_the_sheet():
    game = load_game("tight-square")
    found = setting_of(sheet_of(game, "0"), drawing(game, "png"))
    with our_settings():
        least = min(one.get_fontsize() for one in diagram_figure(game).findobj(Text) if one.get_text())
    drawn_mm = 25.4 * Image.open(io.BytesIO(found.picture[0])).width / DOTS
    assert least * found.picture_mm / drawn_mm >= SMALLEST - 0.05


@pytest.mark.parametrize("name", ["waves", "locked-thirds", "break-away"])
def test_no_two_lines_lie_on_each_other_nor_below_the_side(name: str):
    game = load_game(name)
    found = setting_of(sheet_of(game, "0"), drawing(game, "svg"))
    assert len(found.sides) == 2 and found.points >= SMALLEST
    for side in found.sides:
        ends = sorted((one.x, one.y) for one in side.lines)
        gaps = [below - above for (x, above), (same, below) in zip(ends, ends[1:], strict=False) if x == same]
        assert min(gaps) >= SMALLEST * POINT
        assert max(y for _, y in ends) <= (side.foot or HIGH - MARGIN)


WORDY = (
    "Too easy: if they lose it fewer than 12 times in two bouts, send in a fourth defender (4 chasers), with one more player.",
    "Too hard: if they lose it more than 14 times in two bouts, play with a defender fewer (2 chasers), with one more player.",
    "Change one thing for one bout, then look. One time in ten it's just luck.",
)
"""As much as a card ever has to say."""


@pytest.mark.parametrize("name", ["waves", "locked-thirds"])
def test_the_longest_sheets_have_room_for_a_card_with_much_to_say(name: str):
    game = load_game(name)
    sheet = sheet_of(game, "0")
    sections = tuple(replace(one, lines=WORDY) if one.heading == TRIGGERS else one for one in sheet.sections)
    sheet = replace(sheet, sections=sections, foot=(max(WORDY, key=len), *sheet.foot))
    found = setting_of(sheet, drawing(game, "png"))
    assert len(found.sides) == 2 and found.points >= SMALLEST
    printed = squeezed("".join(line.line.text for side in found.sides for line in side.lines))
    assert all(squeezed(line) in printed for one in sections for line in one.lines)


@pytest.mark.parametrize("name", GAMES)
def test_the_page_has_all_the_words_and_asks_for_nothing_outside(name: str):
    sheet, _, page = made(name)
    found = squeezed(unescape(re.sub(r"<[^>]+>", "", page[page.index("<body>") :])))
    assert [one for one in words(sheet) if squeezed(one) not in found] == []
    assert not re.search(r"""(src|href)\s*=\s*["'](?!data:)""", page) and "<script" not in page and "url(" not in page


def test_the_same_sheet_is_the_same_file():
    game = load_game("tight-square")
    sheet = sheet_of(game, "0")
    again = sheet_pdf(sheet, setting_of(sheet, drawing(game, "png")))
    assert again == made("tight-square")[1]


def crowd(players: int, letters: int):
    """Two sides of bibs on a field, everybody with a name of so many letters."""
    short = to_short(load_game("even-keep-ball"))
    short["teams"] = {team: short["teams"][team] for team in ("amber", "slate")}
    short["roles"] = {"player": short["roles"]["player"]}
    each = players // 2
    names = [f"{team}-{k:02d}-".ljust(letters, "n") for team in ("amber", "slate") for k in range(each)]
    short["roles"]["player"]["players"] = {
        team: [one for one in names if one.startswith(team)] for team in ("amber", "slate")
    }
    return short


def crowded(players: int, letters: int):
    """The game of a crowd, its sheet, and its picture."""
    game = resolve(crowd(players, letters), "crowd")
    assert len(game.players) == players
    return game, sheet_of(game, "0"), drawing(game, "png")


@pytest.mark.parametrize(("players", "letters"), [(40, 12), (60, 40)])
def test_a_crowd_is_legible_and_nobody_is_cut_off(players: int, letters: int):
    game, sheet, draw = crowded(players, letters)
    setting = setting_of(sheet, draw)
    assert setting.points >= SMALLEST
    found = text_of(sheet_pdf(sheet, setting))
    assert all(squeezed(player.id) in found for player in game.players)


def test_markup_in_names_is_printed_as_it_stands():
    game = load_game("tight-square").model_copy(update={"title": WORST, "purpose": WORST, "club": WORST})
    sheet = sheet_of(game, "0")
    page = sheet_page(sheet, setting_of(sheet, drawing(game, "svg")))
    assert "<script" not in page and "<b>" not in page and page.count("&lt;script&gt;") >= 3
    assert squeezed(WORST) in text_of(sheet_pdf(sheet, setting_of(sheet, drawing(game, "png"))))


def test_letters_that_cannot_be_printed_are_refused():
    game = load_game("tight-square").model_copy(update={"purpose": "\N{CJK UNIFIED IDEOGRAPH-7403}"})
    with pytest.raises(InputError, match="letters that our font has"):
        setting_of(sheet_of(game, "0"), drawing(load_game("tight-square"), "svg"))


@pytest.fixture(scope="module")
def started():
    """One browser for all tests here."""
    if not (CHROMIUM and DRIVER):
        pytest.skip(MISSING)
    with browser(1000, 1400) as one:
        yield one


@pytest.fixture
def driver(started):
    """The browser, as large as it was at the beginning."""
    screen(started, 1000, 1400)
    return started


@in_browser
def test_in_the_browser_it_prints_to_both_sides_is_legible_and_fits_a_phone(driver, tmp_path: Path):
    for name in GAMES:
        file = tmp_path / f"{name}.html"
        file.write_text(made(name)[2], encoding="utf-8")
        driver.get(address(file))
        asked = {"preferCSSPageSize": True, "printBackground": True}
        printed = PdfReader(io.BytesIO(base64.b64decode(driver.execute_cdp_cmd("Page.printToPDF", asked)["data"])))
        assert len(printed.pages) == 2, name
        size = float(printed.pages[0].mediabox.width), float(printed.pages[0].mediabox.height)
        assert size == pytest.approx(A4_POINTS, abs=1.0)
        found = squeezed(" ".join(page.extract_text() for page in printed.pages))
        assert [one for one in words(made(name)[0]) if squeezed(one) not in found] == []
        assert driver.execute_script(FAINTEST)[0] >= 4.5, name
        screen(driver, 360, 800)
        assert driver.execute_script("return document.documentElement.scrollWidth") <= 360, name
        assert driver.execute_script("return document.querySelector('img').naturalWidth") > 0
        screen(driver, 1000, 1400)


@in_browser
def test_in_the_browser_markup_does_nothing(driver, tmp_path: Path):
    game = load_game("tight-square").model_copy(update={"title": WORST, "purpose": WORST})
    file = tmp_path / "worst.html"
    sheet = sheet_of(game, "0")
    file.write_text(sheet_page(sheet, setting_of(sheet, drawing(game, "svg"))), encoding="utf-8")
    driver.get(address(file))
    assert driver.title == WORST and driver.execute_script("return document.scripts.length") == 0
