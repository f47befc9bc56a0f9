"""The assistant's sheet as PDF (read back with pypdf) and as a page (opened and printed in a real browser): one side of A4 each.

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
from pypdf import PdfReader

from sim.errors import InputError
from sim.game.loader import load_game, resolve, to_short
from sim.plots.on_sheet import sheet_picture
from sim.report.sheet import sheet_page
from sim.report.sheet_pdf import SMALLEST, fitted, setting_of, sheet_pdf
from sim.words.sheet import BLANKS, TRIGGERS, Section, Sheet, sheet_of, without_triggers
from tests.support.browser import CHROMIUM, DRIVER, FAINTEST, MISSING, address, browser, screen
from tests.support.games import GAMES

in_browser = pytest.mark.skipif(not (CHROMIUM and DRIVER), reason=MISSING)
A4_POINTS = (210 / 25.4 * 72, 297 / 25.4 * 72)
WORST = '<script>document.title="caught"</script><b>&"\''


@cache
def made(name: str) -> tuple[Sheet, bytes, str]:
    game = load_game(name)
    sheet = sheet_of(game, "0")
    (png, ratio), (svg, _) = sheet_picture(game, "png"), sheet_picture(game, "svg")
    return sheet, sheet_pdf(sheet, png, ratio), sheet_page(sheet, svg, ratio)


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
def test_the_pdf_is_one_side_of_a4_with_all_the_words(name: str):
    sheet, pdf, _ = made(name)
    reader = PdfReader(io.BytesIO(pdf))
    assert len(reader.pages) == 1
    page = reader.pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4_POINTS, abs=0.1)
    found = squeezed(page.extract_text())
    assert [one for one in words(sheet) if squeezed(one) not in found] == []
    assert len(page.images) == 1


@pytest.mark.parametrize("name", GAMES)
def test_nothing_is_printed_below_the_margin(name: str):
    _, pdf, _ = made(name)
    lows = []
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(
        visitor_text=lambda text, cm, tm, font, size: lows.append(cm[5] + tm[5]) if text.strip() else None
    )
    assert min(lows) >= 10 / 25.4 * 72 - 1


@pytest.mark.parametrize("name", GAMES)
def test_the_page_has_all_the_words_and_asks_for_nothing_outside(name: str):
    sheet, _, page = made(name)
    found = squeezed(unescape(re.sub(r"<[^>]+>", "", page[page.index("<body>") :])))
    assert [one for one in words(sheet) if squeezed(one) not in found] == []
    assert not re.search(r"""(src|href)\s*=\s*["'](?!data:)""", page) and "<script" not in page and "url(" not in page


def test_the_same_sheet_is_the_same_file():
    game = load_game("tight-square")
    again = sheet_pdf(sheet_of(game, "0"), *sheet_picture(game, "png"))
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
    """The game of a crowd, its sheet, and its picture with the ratio of its sides."""
    game = resolve(crowd(players, letters), "crowd")
    assert len(game.players) == players
    return game, sheet_of(game, "0"), *sheet_picture(game, "png")


def test_forty_players_are_legible():
    game, sheet, png, ratio = crowded(40, 12)
    assert setting_of(sheet, ratio).points >= SMALLEST
    found = squeezed(PdfReader(io.BytesIO(sheet_pdf(sheet, png, ratio))).pages[0].extract_text())
    assert all(squeezed(player.id) in found for player in game.players)


def test_more_than_the_sheet_holds_are_refused_with_the_reason():
    _, sheet, _, ratio = crowded(60, 40)
    with pytest.raises(InputError, match=r"(?s)one side of A4.*shorter names"):
        setting_of(sheet, ratio)


def test_markup_in_names_is_printed_as_it_stands():
    game = load_game("tight-square").model_copy(update={"title": WORST, "purpose": WORST, "club": WORST})
    sheet = sheet_of(game, "0")
    svg, ratio = sheet_picture(game, "svg")
    page = sheet_page(sheet, svg, ratio)
    assert "<script" not in page and "<b>" not in page and page.count("&lt;script&gt;") >= 3
    png, _ = sheet_picture(game, "png")
    assert squeezed(WORST) in squeezed(PdfReader(io.BytesIO(sheet_pdf(sheet, png, ratio))).pages[0].extract_text())


def test_letters_that_cannot_be_printed_are_refused():
    game = load_game("tight-square").model_copy(update={"purpose": "\N{CJK UNIFIED IDEOGRAPH-7403}"})
    with pytest.raises(InputError, match="letters that our font has"):
        setting_of(sheet_of(game, "0"), 1.0)


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
def test_in_the_browser_it_prints_to_one_side_is_legible_and_fits_a_phone(driver, tmp_path: Path):
    for name in GAMES:
        file = tmp_path / f"{name}.html"
        file.write_text(made(name)[2], encoding="utf-8")
        driver.get(address(file))
        asked = {"preferCSSPageSize": True, "printBackground": True}
        printed = PdfReader(io.BytesIO(base64.b64decode(driver.execute_cdp_cmd("Page.printToPDF", asked)["data"])))
        assert len(printed.pages) == 1, name
        size = float(printed.pages[0].mediabox.width), float(printed.pages[0].mediabox.height)
        assert size == pytest.approx(A4_POINTS, abs=1.0)
        found = squeezed(printed.pages[0].extract_text())
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
    file.write_text(sheet_page(sheet_of(game, "0"), *sheet_picture(game, "svg")), encoding="utf-8")
    driver.get(address(file))
    assert driver.title == WORST and driver.execute_script("return document.scripts.length") == 0


def test_where_there_is_no_room_what_makes_it_easier_is_left_out():
    """Of so many levers that nothing could be read; the same sheet keeps them where there is room."""
    whole = sheet_of(load_game("tight-square"), "1")
    many = Section(
        TRIGGERS,
        tuple(f"{n}: a line about a lever that says when to use it, and what it does." for n in range(90)),
        True,
    )
    kept, full = (
        replace(whole, sections=(*without_triggers(whole).sections, one))
        for one in (Section(TRIGGERS, ("One.",), True), many)
    )
    assert fitted(kept, 1.0) == kept
    assert fitted(full, 1.0) == without_triggers(whole) and without_triggers(whole) != full
