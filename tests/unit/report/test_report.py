"""The page for the staff meeting: its numbers against the JSON, and how it is read, used and printed in a real browser.

Contrast: WCAG 2.1, success criterion 1.4.3 (AA: 4.5 to 1 for text).
"""

from __future__ import annotations

import base64
import json
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest

from sim import load_game
from sim.experiments.adjust import adjust
from sim.experiments.cautions import LINE
from sim.experiments.compare import Variant, compare_all
from sim.experiments.levers import levers_of
from sim.experiments.tune import tune
from sim.report.report import report_page
from sim.report.reports import arms_of_compared, report_of_card, report_of_compared, report_of_tuned
from sim.report.watch import typical_bouts
from sim.words.commands import Given
from sim.words.report_words import parted
from tests.support.browser import CHROMIUM, DRIVER, FAINTEST, MISSING, address, browser, screen
from tests.support.paths import player_at

CENTIMETRE = 0.01
SHORT = ("bouts.count=1", "bouts.minutes=0.5")
ONE_TOUCH = (*SHORT, "roles.outside.touches=1")
LONG = "Maximilian-Alexander von Hohenfels-Braun"
in_browser = pytest.mark.skipif(not (CHROMIUM and DRIVER), reason=MISSING)


@cache
def games():
    return load_game("tight-square", SHORT), load_game("tight-square", ONE_TOUCH)


@cache
def watched(*names: str):
    return typical_bouts(list(zip(names, games() if len(names) > 1 else games()[:1], strict=True)), seed=1)


@cache
def compared(name: str = "one touch"):
    first, second = games()
    found = compare_all(first, [Variant(second, ONE_TOUCH, name)], bouts=6, seed=1, workers=1, changes=SHORT)
    given = Given("compare", "tight-square", SHORT, None, None, 1, (), ())
    return found, report_of_compared(found, games(), given, "m", watched("as it is", name), ["What matters."])


@cache
def tuned():
    base, other = games()
    own = {(1,): other, (2,): base}
    found = tune(base, own, ["touches"], ("turnovers_per_min", "game", 5.0), 4, 30, 6, workers=1, changes=SHORT)
    labels = {(1,): "one touch", (2,): "two touches"}
    both = watched("as it is", "other")
    return found, report_of_tuned(found, (base, own[found.answer]), labels, None, "m", both, ["What matters."])


@cache
def card():
    base, _ = games()
    levers, left_out = levers_of(base, lambda more: load_game("tight-square", [*SHORT, *more]))
    found = adjust(base, ("turnovers_per_min", "game", "more"), levers[:3], left_out, bouts=6, workers=1)
    return found, report_of_card(found, base, None, watched("as it is"), ["What matters."])


class Read(HTMLParser):
    """Tables as rows of cells, and the words of everything else, by what it stands in."""

    def __init__(self, page: str):
        super().__init__()
        self.tables, self.words, self.inside, self.cell = [], [], [], None
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if tag == "table":
            self.tables.append([])
        if tag == "tr":
            self.tables[-1].append([])
        if tag in ("td", "th"):
            self.cell = ""
        if tag not in ("meta", "input", "img", "source", "br"):
            self.inside.append(tag)

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self.tables[-1][-1].append(self.cell)
            self.cell = None
        while self.inside and self.inside.pop() != tag:
            pass

    def handle_data(self, data):
        if self.cell is not None:
            self.cell += data
        elif not {"script", "style"} & set(self.inside) and data.strip():
            self.words.append(data.strip())


def figures(page: str, head: str) -> list[list[str]]:
    """The rows of the table in whose head this stands."""
    (found,) = [table for table in Read(page).tables if head in table[0]]
    return found[1:]


def near(text: str, value: float) -> bool:
    """Whether a figure of two digits is this number."""
    return float(text.split()[0]) == pytest.approx(value, rel=0.06, abs=1e-9)


def test_the_figures_of_a_comparison_are_those_of_its_json():
    found, report = compared()
    rows = json.loads(found.to_json())["comparisons"][0]["rows"]
    shown = figures(report_page(report), "one touch")
    assert len(shown) == len(rows) > 5
    for row, cells in zip(rows, shown, strict=True):
        if row["first"] is None:
            assert cells[2:5] == ["not known"] * 3
            continue
        by = 100.0 if row["unit"] == "share" else 1.0
        assert near(cells[2], by * row["first"]) and near(cells[3], by * row["second"])
        middle, low, high = map(float, re.findall(r"[+-]?\d[\d.]*", cells[4]))
        size = max(abs(by * row[one]) for one in ("difference", "low", "high"))
        for one, value in zip(("difference", "low", "high"), (middle, low, high), strict=True):
            assert value == pytest.approx(by * row[one], abs=0.06 * size + 1e-9)


def test_the_figures_of_several_variants_are_those_of_their_json_and_real_ones_are_bold():
    first, second = games()
    small = load_game("tight-square", [*SHORT, "areas.square.length=8"])
    variants = [Variant(second, ONE_TOUCH, "one touch"), Variant(small, (*SHORT, "areas.square.length=8"), "smaller")]
    found = compare_all(first, variants, bouts=8, seed=1, workers=1, changes=SHORT)
    named = arms_of_compared(found, [first, second, small], None, "m")
    assert [name for name, _ in named] == ["as it is", "one touch", "smaller"]
    report = report_of_compared(found, [first, second, small], None, "m", watched("as it is"), [])
    page = report_page(report)
    shown = Read(page).tables[-1][1:]
    for k, one in enumerate(json.loads(found.to_json())["comparisons"]):
        for cells, row in zip(shown, one["rows"], strict=True):
            if row["first"] is not None:
                by = 100.0 if row["unit"] == "share" else 1.0
                assert near(cells[1], by * row["first"]) and near(cells[2 + k], by * row["second"])
    real = sum(row.verdict.startswith("clear") for one in found.comparisons for row in one.rows)
    assert page.count("<td><b>") == real > 0


def test_the_figures_of_a_tune_are_those_of_its_json():
    found, report = tuned()
    data = json.loads(found.to_json())
    shown = figures(report_page(report), "touches")
    for point, cells in zip([*data["curve"], data["fresh"]], shown, strict=True):
        mean, low, high = map(float, re.findall(r"\d[\d.]*", cells[2]))
        assert int(cells[0]) == point["values"][0] and int(cells[4]) == point["bouts"]
        ends = [float(one) for one in cells[3].split(" to ")]
        assert (ends[0], ends[-1]) == pytest.approx((point["evening"]["low"], point["evening"]["high"]), rel=0.06)
        assert (mean, low, high) == pytest.approx((point["mean"], point["low"], point["high"]), rel=0.06)


def test_the_figures_of_a_card_are_those_of_its_json():
    found, report = card()
    shown = [cells for cells in figures(report_page(report), "with it") if len(cells) > 1]
    effects = {(effect["aim"]["first"], effect["aim"]["second"]) for effect in json.loads(found.to_json())["effects"]}
    assert len(shown) == len(effects) > 1
    for cells in shown:
        assert any(near(cells[1], first) and near(cells[2], second) for first, second in effects)


@pytest.mark.parametrize("made", [compared, tuned, card])
def test_every_sentence_of_the_screen_is_on_the_page_and_the_caution_is_last(made):
    _, report = made()
    words = Read(report_page(report)).words
    wanted = [
        report.question,
        report.screen.asked,
        *report.screen.answer,
        *report.beside,
        *report.matters,
        *report.count,
    ]
    for line in [*wanted, *(line.strip() for line in report.next), *report.screen.cautions]:
        assert line in words, line
    assert words[-1] == report.screen.cautions[-1] == LINE
    order = [words.index(line) for line in (report.question, report.screen.answer[0], report.count[0], words[-1])]
    assert order == sorted(order)


def test_commands_are_told_apart_from_what_is_done_on_the_grass():
    doing = ["Count losses for about 20 minutes.", "Try next, to see it whole:", "  overload estimate x"]
    assert parted(doing) == (doing[:1], doing[1:])
    assert parted(["Count."]) == (["Count."], [])


def test_markup_in_a_name_is_shown_and_never_obeyed():
    evil = '<script>window.hurt = 1</script><b>bold & "quoted"</b>'
    _, report = compared(evil)
    page = report_page(report)
    assert "<script>window.hurt" not in page and "<b>bold" not in page
    read = Read(page)
    cells = [cell for table in read.tables for row in table for cell in row]
    assert evil in " ".join([*read.words, *cells])
    for drawn in re.findall(r"base64,([\w+/=]+)", page):
        assert b"<script" not in base64.b64decode(drawn)


def test_a_page_asks_for_nothing_from_outside():
    page = report_page(compared()[1])
    text = re.sub(r"^\s*//.*$|  // .*$|base64,[\w+/=]+", "", page, flags=re.MULTILINE)
    outside = set(re.findall(r"(?:https?:)?//[\w.]+[\w/.]*", text))
    assert outside <= {"http://www.w3.org/2000/svg"}  # the name of a kind of drawing, not a place
    assert "default-src 'none'" in page
    assert all(place.startswith("data:") for place in re.findall(r'(?:src|srcset|href)="([^"]*)"', page))
    assert not re.search(r"<(?:link|iframe)\b|@import|url\(", page)


# in a browser


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    """A browser with the report of a comparison in it."""
    if not (CHROMIUM and DRIVER):
        pytest.skip(MISSING)
    page = tmp_path_factory.mktemp("report") / "report.html"
    page.write_text(report_page(compared()[1]), encoding="utf-8")
    with browser() as driver:
        driver.get(address(page))
        yield driver


def now(driver) -> float:
    return driver.execute_script("return now")


@in_browser
def test_every_control_works(opened):
    screen(opened, 1200, 900)
    opened.execute_script("seek(0)")
    for name, expected in (("on", 5.0), ("back", 0.0)):
        opened.find_element("id", name).click()
        assert now(opened) == pytest.approx(expected)
    opened.find_element("id", "loss").click()
    assert now(opened) > 0
    play = opened.find_element("id", "play")
    play.click()
    assert play.text == "Pause"
    play.click()
    opened.execute_script(
        "const s = document.getElementById('time'); s.value = 20; s.dispatchEvent(new Event('input'))"
    )
    assert now(opened) == pytest.approx(20.0)
    asked_for = opened.execute_script("return performance.getEntriesByType('resource').map(one => one.name)")
    assert all(name.startswith("data:") for name in asked_for)


@in_browser
def test_keys_play_where_the_replay_is_and_scroll_elsewhere(opened):
    from selenium.webdriver.common.keys import Keys

    opened.execute_script("seek(3); document.activeElement.blur()")
    opened.find_element("css selector", "body").send_keys(Keys.SPACE)
    assert opened.execute_script("return playing") is False
    opened.find_element("id", "on").send_keys(Keys.ARROW_RIGHT)
    assert now(opened) == pytest.approx(4.0)


@in_browser
@pytest.mark.parametrize("made", [compared, tuned, card])
def test_it_fits_a_phone_and_can_be_read(made, opened, tmp_path: Path):
    page = tmp_path / "report.html"
    page.write_text(report_page(made()[1]), encoding="utf-8")
    opened.get(address(page))
    for width, of in ((360, "narrow"), (1200, "wide")):
        screen(opened, width, 740)
        assert opened.execute_script("return document.scrollingElement.scrollWidth") <= width
        shown = opened.execute_script(
            "const i = document.querySelector('picture img'); return [i.naturalWidth, i.width, i.alt]"
        )
        assert shown[0] > 0 and shown[1] >= 0.95 * min(shown[0], width - 30), f"{of}: letters are not made smaller"
        assert shown[2]
        faintest, where = opened.execute_script(FAINTEST)
        assert faintest >= 4.5, where


STILLS = """
return [...document.querySelectorAll(".stills")].map(room => [...room.querySelectorAll(".still")].map(still =>
  [...still.querySelectorAll(".player")].sort((a, b) => a.dataset.player - b.dataset.player)
    .map(one => one.getAttribute("transform").match(/-?[0-9.]+/g).map(Number))));
"""


def printed(driver) -> bytes:
    return base64.b64decode(
        driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": True})["data"]
    )


def sheets(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@in_browser
def test_on_paper_each_bout_is_seen_at_five_times(opened, tmp_path: Path):
    _, report = compared()
    page = tmp_path / "report.html"
    page.write_text(report_page(report), encoding="utf-8")
    opened.get(address(page))
    found = opened.execute_script(STILLS)
    assert [len(one) for one in found] == [5, 5]
    for stills, (_, _, log) in zip(found, report.bouts, strict=True):
        for k, places in enumerate(stills):
            t = log.duration_s * (k + 0.5) / 5
            expected = [player_at(log, i, t) for i in range(len(log.players))]
            assert [(x, -y) for x, y in places] == [pytest.approx(one, abs=CENTIMETRE) for one in expected]
    assert now(opened) == 0.0, "drawing them leaves the replay where it was"


@in_browser
@pytest.mark.parametrize("made", [compared, tuned, card])
def test_it_prints_on_three_sheets(made, opened, tmp_path: Path):
    page = tmp_path / "report.html"
    page.write_text(report_page(made()[1]), encoding="utf-8")
    opened.get(address(page))
    assert sheets(printed(opened)) <= 3
    opened.execute_script("document.querySelector('.all').style.height = '300cm'")
    assert sheets(printed(opened)) > 3, "a page that is too long would be noticed"


@in_browser
def test_forty_players_with_long_names_can_be_read_on_a_phone(opened, tmp_path: Path):
    crowd = crowded()
    bouts, which = typical_bouts([("as it is", crowd)], seed=1)
    report = replace(compared(LONG)[1], bouts=bouts, picked=[])
    page = tmp_path / "report.html"
    page.write_text(report_page(report), encoding="utf-8")
    opened.get(address(page))
    screen(opened, 360, 740)
    assert opened.execute_script("return document.scrollingElement.scrollWidth") <= 360
    rows = "[...document.querySelectorAll('.metres tbody tr')]"
    names = opened.execute_script(f"return {rows}.map(row => row.querySelector('bdi').textContent)")
    assert len(names) == 40 and all(len(name) == 40 for name in names) and len(set(names)) == 40
    faintest, where = opened.execute_script(FAINTEST)
    assert faintest >= 4.5, where


def crowded():
    """Twenty against twenty with names of forty letters."""
    from sim.game.loader import to_short

    data = to_short(load_game("even-keep-ball"))
    data["bouts"] = {"count": 1, "seconds": 20.0, "rest_seconds": 0.0}
    people = {team: [f"{team} {i:02d} {LONG}"[:40] for i in range(20)] for team in ("amber", "slate")}
    data["roles"]["player"]["players"] = people
    data["roles"].pop("floater")
    data["teams"].pop("white")
    return load_game(data)
