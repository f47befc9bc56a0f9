"""The replay against the engine: its motion functions in a JavaScript engine, and the whole page in a real browser.

Contrast: WCAG 2.1, success criterion 1.4.3 (AA: 4.5 to 1 for text).  QuickJS is the JavaScript engine of the Python registry.
"""

from __future__ import annotations

import json
import random
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from sim import load_game, play
from sim.experiments.typical import nearest_the_middle, typical_bout
from sim.game.loader import resolve, to_short
from sim.measures.external_load import LOADS, counted, in_order
from sim.measures.power import energies, gauss_rule
from sim.measures.thresholds import limits_of
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.report.bout_data import bout_data, ground_data
from sim.report.pages import raw
from sim.report.replay import replay_page
from sim.words.replay_words import PAGE
from tests.support.browser import CHROMIUM, DRIVER, FAINTEST, MISSING, address, browser, screen
from tests.support.games import GAMES
from tests.support.paths import ball_at, player_at
from tests.support.scene import Scene
from tests.support.watching import watched

CENTIMETRE = 0.01
TIMES = 50
in_browser = pytest.mark.skipif(not (CHROMIUM and DRIVER), reason=MISSING)


@cache
def bout(name: str):
    game = load_game(name)
    return game, play(game, seed=3)


@cache
def data(name: str):
    """The bout as its page has it."""
    return bout_data(*bout(name), "x")


@cache
def page_of(name: str) -> str:
    """The page of the bout alone."""
    return replay_page([("", *bout(name))])


@cache
def evaluated(name: str):
    """A JavaScript engine with the page's motion functions and the bout in it."""
    import quickjs

    engine = quickjs.Context()
    engine.eval(str(raw("motion.js")))
    engine.eval(f"const bout = {json.dumps(data(name))};")
    return engine


def times(log) -> list[float]:
    dice = random.Random(8)
    return [dice.uniform(0.0, log.duration_s) for _ in range(TIMES)]


@pytest.mark.parametrize("name", GAMES)
def test_the_pages_motion_functions_give_the_engines_places(name: str):
    (_, log), engine = bout(name), evaluated(name)
    for t in times(log):
        for i in range(len(log.players)):
            x, y, *_ = json.loads(engine.eval(f"JSON.stringify(playerAt(bout, {i}, {t!r}))"))
            assert (x, y) == pytest.approx(player_at(log, i, t), abs=CENTIMETRE)
        ball = json.loads(engine.eval(f"JSON.stringify(ballAt(bout, {t!r}))"))
        x, y, holder, in_play = ball_at(log, t)
        assert (ball["x"], ball["y"]) == pytest.approx((x, y), abs=CENTIMETRE)
        assert (ball["holder"], ball["inPlay"]) == (holder, in_play)


@cache
def rolling_ball(name: str) -> dict[bool, list[tuple[float, float, float]]]:
    """(t, x, y) of the ball at five moments of each phase of every pass that somebody got to, by the engine's closed forms as the
    bout was played; by whether it slides."""
    found: dict[bool, list[tuple[float, float, float]]] = {True: [], False: []}

    def see(played, _i, _gap):
        here = Scene(played)
        kicked, until = float(here.ball["kicked_at"]), float(played.clock.env.now)
        turn = min(kicked + here.launch.slides_for, until)
        for slides, start, end in ((True, kicked, turn), (False, turn, until)):
            for k in range(5 if end > start else 0):
                t = start + (k + 0.5) / 5.0 * (end - start)
                found[slides].append((t, *here.ball_at(t)[:2]))

    watched(name, 3, see)
    return found


@pytest.mark.parametrize("name", GAMES)
def test_the_page_rolls_the_ball_as_the_engine_did_while_it_slides_and_after(name: str):
    import quickjs

    game = load_game(name)
    engine = quickjs.Context()
    engine.eval(str(raw("motion.js")))
    log = play_bout(game, draw_roster(game, 3, 0), 3)
    engine.eval(f"const bout = {json.dumps(bout_data(game, log, 'x'))};")
    for moments in rolling_ball(name).values():
        assert len(moments) > 50
        for t, x, y in moments:
            ball = json.loads(engine.eval(f"JSON.stringify(ballAt(bout, {t!r}))"))
            assert (ball["x"], ball["y"]) == pytest.approx((x, y), abs=CENTIMETRE), t
            assert ball["holder"] == -1 and ball["inPlay"]


@pytest.mark.parametrize("name", GAMES)
def test_the_metres_of_the_page_are_those_that_are_counted(name: str):
    game, log = bout(name)
    rows = in_order(log.segments)
    tops = np.array([who.vmax_mps for who in log.profiles])
    loads, _ = counted(rows, energies(rows, *gauss_rule()), len(log.players), len(log.roles), limits_of(game), tops)
    run = loads[:, :, LOADS.index("distance_m")].sum(axis=1)
    engine = evaluated(name)
    for i in range(len(log.players)):
        assert engine.eval(f"metresAt(bout, {i}, {log.duration_s!r})") == pytest.approx(run[i], abs=0.1)


def with_words(words: str):
    short = to_short(load_game("tight-square"))
    return resolve(short | {"title": words, "purpose": words}, "marked")


def test_markup_in_a_name_is_shown_and_never_obeyed():
    evil = '<script>window.hurt = 1</script><b>bold & "quoted"</b>'
    game = with_words(evil)
    page = replay_page([("", game, play(game, seed=1))])
    assert "<script>window.hurt" not in page and "<b>bold" not in page
    assert "&lt;script&gt;window.hurt" in page


def test_a_page_asks_for_nothing_from_outside():
    page = page_of("tight-square")
    outside = set(
        re.findall(r"(?:https?:)?//[\w.]+[\w/.]*", re.sub(r"^\s*//.*$|  // .*$", "", page, flags=re.MULTILINE))
    )
    assert outside <= {"http://www.w3.org/2000/svg"}  # the name of a kind of drawing, not a place
    assert "default-src 'none'" in page
    assert not re.search(r"<(?:link|img|iframe)\b|@import|url\(", page)


def test_the_typical_bout_is_nearest_the_medians_not_the_first_or_the_prettiest():
    values = np.array([[9.0, 1.0, np.nan], [2.0, 5.0, 7.0], [3.0, 4.0, 7.0], [4.0, 9.0, 7.0], [2.9, 4.2, 7.0]])
    # medians 3, 4.2 and 7, spreads 1 and 0.8 (the third column never differs): the last lies 0.1 and 0 away, the third 0 and 0.25
    assert nearest_the_middle(values) == 4
    assert nearest_the_middle(values[:4]) == 2
    assert nearest_the_middle(np.array([[1.0], [1.0]])) == 0


def test_the_typical_bout_is_the_same_for_the_same_seed():
    game = load_game("tight-square")
    once, again = (typical_bout(game, 4, sessions=3) for _ in range(2))
    assert once == again
    assert once.bouts == 12


@pytest.fixture(scope="module")
def started():
    """One browser for all tests here."""
    if not (CHROMIUM and DRIVER):
        pytest.skip(MISSING)
    with browser() as one:
        yield one


@pytest.fixture
def driver(started):
    """The browser, as large as it was at the beginning."""
    screen(started, 1200, 900)
    return started


@pytest.fixture
def opened(driver, tmp_path: Path):
    """The browser with tight-square in it."""
    page = tmp_path / "replay.html"
    page.write_text(page_of("tight-square"), encoding="utf-8")
    driver.get(address(page))
    return driver


PLACES = """
const players = [...document.querySelectorAll(".player")];  // whoever has the ball is drawn last
const order = one => 100 * panels.findIndex(panel => panel.svg.contains(one)) + Number(one.dataset.player);
return players.sort((a, b) => order(a) - order(b)).map(one => one.getAttribute("transform").match(/-?[0-9.]+/g).map(Number));
"""


@in_browser
@pytest.mark.parametrize("name", ["tight-square", "break-away"])
def test_places_read_from_the_page_are_the_engines(driver, name: str, tmp_path: Path):
    _, log = bout(name)
    page = tmp_path / "replay.html"
    page.write_text(page_of(name), encoding="utf-8")
    driver.get(address(page))
    for t in times(log):
        driver.execute_script("seek(arguments[0])", t)
        for i, (x, y) in enumerate(driver.execute_script(PLACES)):
            assert (x, -y) == pytest.approx(player_at(log, i, t), abs=CENTIMETRE)
    assert driver.execute_script("return performance.getEntriesByType('resource').length") == 0


BALL = "const ball = panels[0].ball; return ['cx', 'cy'].map(one => Number(ball.getAttribute(one)));"


@in_browser
def test_the_ball_read_from_the_page_slides_and_rolls_as_the_engines(driver, tmp_path: Path):
    game = load_game("tight-square")
    page = tmp_path / "replay.html"
    page.write_text(replay_page([("", game, play_bout(game, draw_roster(game, 3, 0), 3))]), encoding="utf-8")
    driver.get(address(page))
    for moments in rolling_ball("tight-square").values():
        for t, x, y in random.Random(8).sample(moments, TIMES):
            driver.execute_script("seek(arguments[0])", t)
            cx, cy = driver.execute_script(BALL)
            assert (cx, -cy) == pytest.approx((x, y), abs=CENTIMETRE), t


@in_browser
def test_the_run_off_that_is_played_in_is_drawn(driver, tmp_path: Path):
    game, log = bout("tight-square")
    at_the_line = load_game("tight-square", ["areas.square.out=line"])
    page = tmp_path / "replay.html"
    page.write_text(replay_page([("", game, log), ("", at_the_line, log)]), encoding="utf-8")
    driver.get(address(page))
    (band,) = driver.find_elements("css selector", ".run-off")  # of the first game alone
    sizes = [float(band.get_attribute(name)) for name in ("x", "y", "width", "height")]
    assert sizes == [-8.5, -8.5, 17.0, 17.0]  # 3 m beyond a square of 11 m
    assert band.find_element("css selector", "title").get_attribute("textContent") == PAGE["run-off"]


def test_a_page_knows_how_wide_the_run_off_is():
    for changes, wide in (([], 3.0), (["areas.square.out=line"], 0.0)):
        assert ground_data(load_game("tight-square", changes))["areas"][0]["runOff"] == wide


def now(driver) -> float:
    return driver.execute_script("return now")


UNTIL_IT_GOES = """
const done = arguments[0], from = now;
(function look() { now > from ? done() : setTimeout(look, 20); })();
"""
"""However long the browser takes to its first picture; half a minute at most, as all scripts."""


def click(driver, name: str) -> None:
    driver.find_element("id", name).click()


@in_browser
def test_every_control_works(opened):
    _, log = bout("tight-square")
    losses = [event[0] for event in log.events if event[2] == "loss"]
    opened.execute_script("seek(0)")
    click(opened, "on")
    assert now(opened) == pytest.approx(5.0)
    click(opened, "back")
    assert now(opened) == pytest.approx(0.0)
    click(opened, "loss")
    assert now(opened) == pytest.approx(losses[0] - 2.0, abs=1e-3)
    click(opened, "play")
    opened.implicitly_wait(0)
    assert opened.find_element("id", "play").text == "Pause"
    opened.execute_async_script(UNTIL_IT_GOES)
    click(opened, "play")
    went = now(opened)
    assert losses[0] - 2.0 < went < losses[0] + 30.0
    assert opened.find_element("id", "play").text == "Play"
    opened.execute_script(
        "const s = document.getElementById('time'); s.value = 33; s.dispatchEvent(new Event('input'))"
    )
    assert now(opened) == pytest.approx(33.0)
    opened.find_elements("css selector", ".happened button")[4].click()
    assert now(opened) == pytest.approx(data("tight-square")["told"][4][0])
    lane = opened.find_element("css selector", ".lane")
    opened.execute_script("arguments[0].scrollIntoView()", lane)
    lane.click()
    assert now(opened) == pytest.approx(log.duration_s / 2, abs=0.5)


@in_browser
def test_it_can_be_used_by_keyboard_alone(opened):
    from selenium.webdriver.common.keys import Keys

    body = opened.find_element("css selector", "body")
    body.send_keys(Keys.HOME)
    assert now(opened) == 0.0
    body.send_keys(Keys.ARROW_RIGHT)
    assert now(opened) == pytest.approx(1.0)
    body.send_keys(Keys.SHIFT + Keys.ARROW_RIGHT)
    assert now(opened) == pytest.approx(6.0)
    body.send_keys("n")
    at = now(opened)
    assert at > 6.0
    body.send_keys("b")
    assert now(opened) <= at
    body.send_keys("+")
    assert opened.find_element("id", "speed").get_attribute("value") == "2"
    body.send_keys("-")
    body.send_keys(Keys.SPACE)
    assert opened.execute_script("return playing") is True
    body.send_keys(Keys.SPACE)
    assert opened.execute_script("return playing") is False
    body.send_keys(Keys.END)
    assert now(opened) == pytest.approx(bout("tight-square")[1].duration_s)


@in_browser
def test_it_fits_a_phone_and_can_be_read(opened):
    for width in (360, 1200):
        screen(opened, width, 740)
        assert opened.execute_script("return document.scrollingElement.scrollWidth") <= width
        for one in opened.find_elements("css selector", "button, select, input"):
            box = one.rect
            assert box["x"] >= 0 and box["x"] + box["width"] <= width
        faintest, where = opened.execute_script(FAINTEST)
        assert faintest >= 4.5, where
    for one in opened.find_elements("css selector", "#play, #back, #on, #loss"):
        assert one.rect["height"] >= 44 - 1e-6  # a finger (WCAG 2.1, 2.5.5)


@in_browser
def test_what_happens_can_be_heard(opened):
    """For screen readers: an ordered list of what happens, the one that is now marked, and names on all that is drawn."""
    opened.execute_script("seek(20)")
    current = opened.find_elements("css selector", ".happened [aria-current]")
    assert len(current) == 1
    drawn = opened.find_elements("css selector", "svg:not([aria-hidden]), [role=img], input")
    assert all(one.get_attribute("aria-label") for one in drawn)


@in_browser
def test_two_bouts_stand_side_by_side_on_one_clock(driver, tmp_path: Path):
    page = tmp_path / "two.html"
    other = load_game("tight-square", changes=["areas.square.length=8", "areas.square.width=8"])
    pair = [("as it is", *bout("tight-square")), ("8 x 8 m", other, play(other, seed=3))]
    page.write_text(replay_page(pair), encoding="utf-8")
    driver.get(address(page))
    left, right = driver.find_elements("css selector", ".pitch")
    assert left.rect["y"] == right.rect["y"] and left.rect["x"] < right.rect["x"]
    driver.execute_script("seek(12.5)")
    places = driver.execute_script(PLACES)
    expected = [player_at(log, i, 12.5) for _, _, log in pair for i in range(len(log.players))]
    assert [(x, -y) for x, y in places] == [pytest.approx(one, abs=CENTIMETRE) for one in expected]


def test_every_row_holds_until_the_next_begins():
    """The page leaves out where rows end, so there must be no gaps between them."""
    _, log = bout("even-goals")
    for i in range(len(log.players)):
        rows = log.segments[log.segments["player"] == i]
        rows = rows[np.argsort(rows["t0"], kind="stable")]
        assert np.array_equal(rows["t0"][1:], rows["t1"][:-1])
