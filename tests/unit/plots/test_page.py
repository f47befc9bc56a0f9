"""Pages: same bytes, caution and provenance at the foot, numbers beside, nothing of the user's own settings."""

from __future__ import annotations

import io

import matplotlib
import pandas as pd
import pytest
from matplotlib.axes import Axes

from sim.plots import curve, exposure, levers, runs, speed_zones, variants
from sim.plots.bout_frames import of_exposure, of_runs, of_speed_zones
from sim.plots.frames import of_compared, of_tuned
from sim.plots.page import Page, numbers, our_settings, page_figure, picture
from sim.words.picture_words import corner, played
from tests.unit.experiments.test_tune import tuned
from tests.unit.plots.drawn import LINE, ORIGIN, words_of
from tests.unit.plots.test_exposure import GAME, RESULT, TALLIES
from tests.unit.plots.test_levers import a_frame
from tests.unit.plots.test_variants import FOUND

STARTS = {"png": b"\x89PNG\r\n", "svg": b"<?xml", "pdf": b"%PDF"}


def a_page() -> Page:
    return Page(levers, a_frame(), ORIGIN)


@pytest.mark.parametrize("suffix", STARTS)
def test_the_same_page_gives_the_same_bytes(suffix: str):
    drawn = picture(a_page(), suffix)
    assert drawn.startswith(STARTS[suffix])
    assert drawn == picture(a_page(), suffix)


@pytest.mark.parametrize("suffix", STARTS)
def test_settings_of_the_user_change_nothing_and_stay_as_they_were(suffix: str):
    plain = picture(a_page(), suffix)
    with matplotlib.rc_context({"font.size": 20.0, "axes.facecolor": "red", "savefig.dpi": 40, "axes.grid": True}):
        assert picture(a_page(), suffix) == plain
        assert matplotlib.rcParams["font.size"] == 20.0


def test_no_date_and_no_name_of_a_program():
    for suffix in ("svg", "pdf"):
        text = picture(a_page(), suffix)
        assert not any(word in text for word in (b"Date", b"<dc:date", b"atplotlib.org", b"/Producer", b"/Creator"))
    assert b"Software" not in picture(a_page(), "png")


def test_the_foot_says_where_it_is_from_and_ends_with_the_caution():
    foot = words_of(a_page()).replace("\n", " ")
    for part in (
        "tight-square with areas.square.length=9",
        "amateur men",
        "80 bouts in 20 sessions",
        "seed 3",
        "0.1.0",
    ):
        assert part in foot
    assert foot.endswith(f"Count. {LINE}")


def test_the_sentence_stands_on_the_page_once():
    page = a_page()
    with our_settings():
        figure = page_figure(page)
    (axis,) = figure.axes
    assert axis.get_title(loc="left") == ""
    assert figure.texts[0].get_text().replace("\n", " ").startswith("What moves it most: ")


def test_the_numbers_are_the_frame():
    read = pd.read_csv(io.StringIO(numbers(a_page())))
    pd.testing.assert_frame_equal(read, a_frame())


LONG = {"measure": "defending_share_most", "unit": "%"}


@pytest.mark.parametrize(
    ("drawn", "frame"),
    [
        (
            levers,
            a_frame(lever=["a metre in: 10 x 10 m", "a touch fewer (2 for west and east)", "a pass"]).assign(**LONG),
        ),
        (curve, of_tuned(tuned(0.77)).assign(**LONG)),
        (exposure, of_exposure(RESULT, GAME)),
        (speed_zones, of_speed_zones(RESULT, GAME)),
        (runs, of_runs(TALLIES, GAME)),
        (
            variants,
            of_compared(FOUND, "in_play_share").replace({"condition": {"long": "one touch, fewer and bigger areas"}}),
        ),
    ],
    ids=lambda one: getattr(one, "__name__", ""),
)
def test_words_do_not_run_out_of_the_page_or_into_one_another(drawn, frame: pd.DataFrame):
    with our_settings():
        figure = page_figure(Page(drawn, frame, ORIGIN))
        figure.draw_without_rendering()
        boxes = [text.get_window_extent() for text in figure.texts]
        boxes += [figure.legends[0].get_window_extent(), tight(figure.axes[0])]
    page = figure.bbox
    assert all(page.x0 <= one.x0 and one.x1 <= page.x1 and page.y0 <= one.y0 and one.y1 <= page.y1 for one in boxes)
    for i, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[:i])


def tight(axis: Axes):
    return axis.get_tightbbox()


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ((1,), "1 bout"),
        ((200, 50), "200 bouts in 50 sessions"),
        ((8, 1), "8 bouts in 1 session"),
        ((9, None, 3), "9 bouts in 3 runs"),
    ],
)
def test_played(given: tuple, said: str):
    assert played(*given) == said


def test_the_foot_of_a_picture_names_version_and_engine():
    assert "seed 3; overload 0.1.0, engine 0123456789ab.\nCount." in corner(ORIGIN)
