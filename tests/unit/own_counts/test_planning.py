"""A plan is kept before the counts, and they are judged by it whatever is forecast later."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.own_counts import versions
from sim.own_counts.answer import Planned, answered
from sim.own_counts.exchange import as_csv, filled, from_csv, tables_of
from sim.own_counts.logbook import opened
from sim.own_counts.planning import add_plan, long_enough, plan_in, plans, require_plannable
from sim.own_counts.schema import MIGRATIONS, OF_THE_FIRST, TABLES
from sim.own_counts.versions import migrate
from sim.words.logbook import plans_in_words
from sim.words.tally_screen import tally_in_words
from tests.unit.own_counts.byhand import TODAY, chance, forecast, row

FOUND = forecast(chance(5.0, 20), key="p1")
LATER = forecast(chance(9.0, 90), key="f2")
LATER.made["engine"] = "later"


def planned(path: Path):
    book = opened(path)
    for found in (FOUND, LATER):
        book.add_forecast(found, "Game", "game")
    return book, add_plan(book, FOUND, TODAY, "Game", "game")


def test_an_evening_is_judged_by_its_plan_whatever_is_forecast_later(tmp_path: Path):
    book, plan = planned(tmp_path / "club.log")
    with book:
        assert add_plan(book, FOUND, TODAY, "Game", "game") == plan and plans(book) == [plan]
        assert "not counted yet: Game" in plans_in_words(plans(book), book.evenings())
        sessions, _ = book.add_rows([row(5)], "Game", "game", "s")
        book.link(sessions[TODAY], "f2")
        assert (book.evenings()[0].forecast, book.evenings()[0].planned) == ("f2", "")  # the plan was not long enough
        book.link(sessions[TODAY], "p1")
        assert (book.evenings()[0].forecast, book.evenings()[0].planned) == ("p1", plan.made)
        assert plans_in_words(plans(book), book.evenings()) == ""


def test_the_last_plan_holds_and_another_layout_has_its_own(tmp_path: Path):
    book, _ = planned(tmp_path / "club.log")
    with book:
        second = add_plan(book, LATER, TODAY, "Game", "game")
        other = forecast(chance(5.0, 20), key="o", setup="other")
        book.add_forecast(other, "Game", "game")
        add_plan(book, other, TODAY, "Game", "game")
        assert plan_in(book.connection, TODAY, "s") == second
        assert plan_in(book.connection, TODAY, "other").forecast == "o"
        assert plan_in(book.connection, "2026-11-28", "s") is None


def test_nothing_is_planned_once_it_is_counted(tmp_path: Path):
    book, _ = planned(tmp_path / "club.log")
    with book:
        book.add_rows([row(5)], "Game", "game", "s")
        for ask in (lambda: require_plannable(book, TODAY, "Game"), lambda: add_plan(book, LATER, TODAY, "Game", "g")):
            with pytest.raises(InputError, match=r"must be planned before it is counted \(got row 1"):
                ask()
        assert len(plans(book)) == 1


def test_a_plan_judges_no_more_than_it_has():
    assert long_enough(FOUND, [row(5, 8.0)]) and not long_enough(FOUND, [row(5, 8.5)])
    assert long_enough(FOUND, [row(5, 4.0, clock="rolling")]) and not long_enough(FOUND, [row(5, 5.0, clock="rolling")])
    assert long_enough(FOUND, [row(5, 8.0), row(5, 8.0, changed="one touch")])


def test_the_screen_says_when_it_was_planned():
    game = load_game("tight-square")
    found = answered(game, [row(22)], FOUND, planned={TODAY: Planned("2026-11-26T18:00:00+00:00", FOUND)})
    assert found.evenings[0].planned.startswith("2026-11-26")
    assert "Planned on 26 Nov 2026, forecast kept then: about" in tally_in_words(found, game)
    assert "Forecast: about" in tally_in_words(answered(game, [row(22)], FOUND), game)


def test_a_logbook_of_the_first_version_is_brought_up_and_loses_nothing(tmp_path: Path):
    path = tmp_path / "club.log"
    base = sqlite3.connect(path, isolation_level=None)
    migrate(base, MIGRATIONS[:1])
    base.execute("INSERT INTO session (logged, day, game, typed, setup) VALUES ('', '2026-01-01', 'G', 'g', 'x')")
    base.execute(
        "INSERT INTO tally (session, minutes, clock, losses, changed, players) VALUES (1, 2, 'watch', 3, '', '')"
    )
    base.close()
    with opened(path) as book:
        assert versions.number(book.connection, "user_version") == len(MIGRATIONS) == 3
        assert book.evenings()[0].standing[0].counts == {"losses": 3}
        tables = tables_of(book, names=True)
        assert list(tables) == list(TABLES) and tables["planned"] == []
        old = {table: from_csv(table, as_csv(table, tables[table]), table) for table in OF_THE_FIRST}
        with opened(tmp_path / "new.log") as new:  # an export of the first version has no more
            filled(new, old)
            assert new.evenings() == book.evenings()
