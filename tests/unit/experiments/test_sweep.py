"""Sweeps: designs, tidy rows, and that a stopped one ends the same as one that was not."""

from __future__ import annotations

import csv
import io
import math
import re

import pandas as pd
import pytest

from sim import __version__
from sim.assumptions import Assumptions
from sim.errors import InputError
from sim.experiments.cautions import LINE, NO_FIGURES, cautions_for, cautions_of_runs
from sim.experiments.designs import Axis, axis_of, full_factorial, latin_hypercube, placed
from sim.experiments.replicate import replicate, session_bouts
from sim.experiments.sessions import bout_counts
from sim.experiments.sweep import (
    Run,
    as_parquet,
    check_of,
    id_of,
    lines_of,
    runs_of,
    sweep,
    table_of,
    text_of,
)
from sim.game.loader import load_game
from sim.measures.session_counts import session_of
from sim.measures.summary import summarise
from sim.measures.thresholds import limits_of
from sim.plots.pages import of_sweep as page_of_sweep
from sim.provenance import engine
from sim.words.commands import Given
from sim.words.sweep_details import Swept, details_of_swept
from sim.words.sweep_screen import swept_on_a_screen
from tests.support.games import GAMES as SIX
from tests.support.screens import holds
from tests.unit.experiments.test_tune import GAME, GAMES, staged_sizes

AXES = [Axis("side", tuple(str(n) for n in range(10, 16)))]
RUNS = [Run(id_of(game, [str(n)], 6, 1), (str(n),), game) for (n,), game in GAMES.items()]


def swept(runs=RUNS, **more) -> dict:
    return sweep(runs, 6, 1, **({"workers": 1, "session": staged_sizes} | more))


@pytest.mark.parametrize(
    ("text", "axis"),
    [
        ("side=8..10", Axis("side", ("8", "9", "10"), (8.0, 10.0), True)),
        ("bout=60..120:30", Axis("bout", ("60", "90", "120"), (60.0, 120.0), True)),
        ("touches=1, free", Axis("touches", ("1", "free"))),
        ("side=8..10,14", Axis("side", ("8", "9", "10", "14"))),
        ("x=1.5..2.5:0.5", Axis("x", ("1.5", "2.0", "2.5"), (1.5, 2.5), False)),
        ("k={ a = 1, b = 2 },{ a = 2 }", Axis("k", ("{ a = 1, b = 2 }", "{ a = 2 }"))),
        ("x=1.5..2.5", Axis("x", (), (1.5, 2.5), False)),
    ],
)
def test_an_axis_as_typed(text, axis):
    assert axis_of(text) == axis


@pytest.mark.parametrize(
    "text",
    ["side", "=3", "side=", "side=a..b", "side=9..8", "side=1..9:0", "x=1.5..2.5..0.5", "side=8..14..2", "side=8,,9"],
)
def test_no_axis(text):
    with pytest.raises(InputError, match="--key: "):
        axis_of(text)


def test_a_full_design_is_every_combination_once():
    axes = [axis_of("side=8,9,8"), axis_of("touches=1..3")]
    assert full_factorial(axes) == [(a, b) for a in "89" for b in "123"]
    with pytest.raises(InputError, match="must name every key once"):
        full_factorial([axes[0], axes[0]])
    with pytest.raises(InputError, match="--spread N"):
        full_factorial([axis_of("x=1.5..2.5")])
    with pytest.raises(InputError, match="2000 runs at most"):
        full_factorial([axis_of("a=1..50"), axis_of("b=1..50")])


def test_a_spread_fills_the_space_evenly():
    """A Latin hypercube has one point in every n-th part of every axis (McKay et al. 1979, by definition)."""
    axes = [axis_of("x=0.0..10.0"), axis_of("y=100.0..200.0")]
    points = latin_hypercube(axes, 20, 3)
    assert points == latin_hypercube(axes, 20, 3) != latin_hypercube(axes, 20, 4)
    assert sorted(math.floor(2 * float(x)) for x, _ in points) == list(range(20))
    assert sorted(math.floor((float(y) - 100) / 5) for _, y in points) == list(range(20))
    whole = latin_hypercube([axis_of("side=8..11")], 40, 3)
    assert sorted(whole) == [("10",), ("11",), ("8",), ("9",)], "what rounds to the same is kept once"
    with pytest.raises(InputError, match="from 2 to 2000 points"):
        latin_hypercube(axes, 1, 3)


@pytest.mark.parametrize(
    ("axis", "at", "value"),
    [
        ("s=8..11", 0.0, "8"),
        ("s=8..11", 0.99, "11"),
        ("s=8..12:4", 0.6, "12"),
        ("w=a,b,c", 0.5, "b"),
        ("x=1.0..2.0", 0.25, "1.25"),
    ],
)
def test_where_a_point_lies(axis, at, value):
    assert placed(axis_of(axis), at) == value


def test_rows_are_those_of_an_estimate():
    found = swept()
    assert list(found) == [run.id for run in RUNS]
    table = table_of(text_of(AXES, found))
    tallies = replicate(GAMES[(12,)], 6, 1, 1, session=staged_sizes).sessions
    share = next(row for row in summarise(GAME, tallies) if (row.measure, row.scope) == ("in_play_share", "game"))
    (row,) = table[(table["side"] == 12) & (table["measure"] == "in_play_share")].to_dict("records")
    assert (row["mean"], row["low"], row["high"], row["sessions"]) == (share.mean, share.low, share.high, share.n)
    assert not table.duplicated(["run", "measure", "scope"]).any()
    assert not any(scope.startswith("player") for scope in table["scope"])


def test_any_number_of_workers_gives_the_same_text():
    assert text_of(AXES, swept(workers=1)) == text_of(AXES, swept(workers=2))


@pytest.mark.parametrize("after", [0, 1, 3, 5])
def test_a_stopped_sweep_ends_the_same(after):
    class Killed(BaseException):
        pass

    place = {"text": text_of(AXES, {})}

    def keep(lines):
        place["text"] = text_of(AXES, lines)
        if len(lines) > after:
            raise Killed

    with pytest.raises(Killed):
        swept(keep=keep)
    played = []
    done = lines_of(place["text"], AXES, RUNS, "--save")
    assert len(done) == after + 1

    def counted(game, seed, replicate):
        played.append(game.areas[0].length)
        return staged_sizes(game, seed, replicate)

    assert text_of(AXES, swept(done=done, session=counted)) == text_of(AXES, swept())
    assert len(set(played)) == 6 - (after + 1), "what was done is not played again"


def test_an_interruption_keeps_whole_runs_and_says_how_to_go_on():
    def stops(game, seed, replicate):
        if game.areas[0].length == 12 and replicate == 1:
            raise KeyboardInterrupt
        return staged_sizes(game, seed, replicate)

    found = swept(session=stops)
    assert list(found) == [run.id for run in RUNS[:2]]
    text = swept_on_a_screen(Swept(GAME, AXES, RUNS, found), "kept.csv")
    assert "2 of 6 runs" in text and "4 runs are missing; the same command goes on." in text


def test_a_sweep_says_what_its_games_do_not_stand_on():
    text = swept_on_a_screen(Swept(GAME, AXES, RUNS, swept()), "kept.csv")
    assert f"\n{NO_FIGURES}\n" in text and text.endswith(f"\n{LINE}")
    # 10 m wide and 10 to 15 m long: corner to corner 14.1 to 18.03 m.
    assert "Fast running: do not rely on it here, the longest line is 14 to 18 m." in text
    origin = page_of_sweep(GAME, AXES, (RUNS, swept()), ("in_play_share", "game")).origin
    assert origin.cautions[0] == NO_FIGURES and (origin.version, origin.engine) == (__version__, engine())


def test_the_table_begins_with_what_was_varied_and_ends_with_what_only_a_program_reads():
    header, row, *_ = csv.reader(io.StringIO(text_of(AXES, swept())))
    assert (header[:2], header[-2:]) == (["side", "measure"], ["run", "check"])
    assert (row[0], row[-2]) == ("10", RUNS[0].id)
    two_keys = [Axis("side", ("9",)), Axis("touches", ("1",))]
    assert text_of(two_keys, {}).startswith("side,touches,measure,")


def test_the_screen_is_a_short_table_with_counts_and_doubts():
    """Two losses in each bout of a minute, whatever the length."""
    many = [Run(f"{run.id}{i}", run.values, run.game) for i in range(4) for run in RUNS]
    found = swept()
    lines = {run.id: found[run.id[: len(RUNS[0].id)]] for run in many}
    text = swept_on_a_screen(Swept(GAME, AXES, many, lines), None)
    holds(text)
    assert text.startswith("A square: 4 v 2, 10 x 10 m, two touches; 24 of 24 runs\n")
    assert "Losses a bout of a minute on the watch, and a minute with the ball rolling:" in text
    rows = [line for line in text.splitlines() if re.match(r"1\d x 10 m ", line)]
    assert rows and all(line.split("m", 1)[1].split()[0] == "2.0" for line in rows)
    assert f"and {24 - len(rows)} more: --details" in text
    details = details_of_swept(Swept(GAME, AXES, many, lines))
    assert len([line for line in details.splitlines() if re.match(r"1\d x 10 m ", line)]) == 24
    assert RUNS[0].id not in text + details
    assert max(map(len, details_of_swept(Swept(GAME, AXES, many, lines), width=80).splitlines())) <= 80


def test_a_stopped_sweep_prints_its_command_whole():
    given = Given("sweep", "square", question=(("--key", ("side=10..15",)), ("--save", "kept.csv")))
    found = {run.id: swept()[run.id] for run in RUNS[:1]}
    text = swept_on_a_screen(Swept(GAME, AXES, RUNS, found), "kept.csv", given=given)
    assert (
        "Stopped early: 5 runs are missing. To go on:\n  overload sweep square --key side=10..15 --save kept.csv\n"
        in text
    )
    holds(text)
    holds(swept_on_a_screen(Swept(GAME, AXES, RUNS, {}), None))


def test_a_sweep_over_short_and_long_areas_counts_the_short_ones():
    games = [load_game("tight-square", [f"areas.square.length={side}"]) for side in (9, 20, 30)]
    (line,) = [one for one in cautions_of_runs([(game, {"in_play_share"}) for game in games]) if "longest" in one]
    assert line == "Fast running: do not rely on it in 1 of these 3 games, the longest line is 14 m."
    assert cautions_of_runs([]) == (LINE,)


def test_one_game_alone_is_cautioned_as_an_estimate_of_it():
    """Whatever hangs on the game and not on what came out of it."""
    for name in SIX:
        game = load_game(name)
        rows = summarise(game, [session_of(list(bout_counts(game, session_bouts(game, 1, 0))))])
        one = [line for line in cautions_for(game, rows, limits_of(game), 20, 20) if not line.startswith("Hardly")]
        assert list(cautions_of_runs([(game, {row.measure for row in rows})])) == one


def test_parquet_holds_the_same_table():
    pyarrow = pytest.importorskip("pyarrow.parquet", reason="needs the extra `parquet`")
    text = text_of(AXES, swept())
    found = pyarrow.read_table(io.BytesIO(as_parquet(text))).to_pandas()
    pd.testing.assert_frame_equal(found, table_of(text), check_dtype=False)
    assert found["side"].tolist() == table_of(text)["side"].tolist() and found["mean"].dtype == float


def test_a_table_of_another_sweep_is_refused():
    text = text_of(AXES, swept())
    with pytest.raises(InputError, match="--save: must be a table of a sweep over touches"):
        lines_of(text, [Axis("touches", ())], RUNS, "--save")
    other = [Run(id_of(run.game, run.values, 6, 2), run.values, run.game) for run in RUNS]
    with pytest.raises(InputError, match=f"runs of this very sweep.*got run {RUNS[0].id}"):
        lines_of(text, AXES, other, "--save")
    with pytest.raises(InputError, match="must be a table of a sweep"):
        lines_of("", AXES, RUNS, "--save")
    own = [Assumptions(), Assumptions(engine=(("tackle_win", 0.9),))]
    ids = {id_of(GAME, ["1"], bouts, seed, one) for bouts in (6, 9) for seed in (1, 2) for one in own}
    assert len(ids) == 8, "bouts, seed and assumptions make another run"


def changed(at: str, value: str, signed: bool):
    """One cell of the second row of the table, of the first run; with the checksum of the run reckoned anew if `signed`."""

    def change(rows: list[list[str]]) -> list[list[str]]:
        place = rows[0].index(at)
        run = rows[0].index("run")
        mine = [row for row in rows[1:] if row[run] == rows[1][run]]
        mine[1][place] = value
        if signed:
            check = check_of([row[:-1] for row in mine])
            for row in mine:
                row[-1] = check
        return rows

    return change


TAMPERED = {
    "a row missing": lambda rows: rows[:5] + rows[6:],
    "the last row missing": lambda rows: rows[:-1],
    "half a table": lambda rows: rows[: len(rows) // 2],
    "a row twice": lambda rows: rows + [rows[-1]],
    "rows in another order": lambda rows: [rows[0], rows[2], rows[1], *rows[3:]],
    "a cell changed": changed("mean", "0.5", False),
    "an engine changed": changed("engine", "0" * 12, False),
    "no figure": changed("mean", "much", True),
    "not a number": changed("mean", "nan", True),
    "without end": changed("high", "inf", True),
    "ends the wrong way round": changed("low", "1e9", True),
    "sessions below nothing": changed("sessions", "-3", True),
    "half a bout": changed("bouts", "2.5", True),
    "more bouts than can be": changed("bouts", "9" * 30, True),
    "values of another run": changed("side", "99", True),
    "a run of another sweep": changed("run", "0123456789ab", True),
}  # fmt: skip


@pytest.mark.parametrize("name", TAMPERED)
def test_a_table_that_is_not_as_it_was_written_is_not_finished(name: str):
    rows = list(csv.reader(io.StringIO(text_of(AXES, swept()))))
    place = io.StringIO()
    csv.writer(place, lineterminator="\n").writerows(TAMPERED[name](rows))
    with pytest.raises(InputError) as refused:
        lines_of(place.getvalue(), AXES, RUNS, "--save")
    assert len(refused.value.problems) == 1 and str(refused.value).startswith("--save: ")


@pytest.mark.parametrize("text", ["\x00", 'run,"side', "run" + "x" * 200_000, "\ufffd\ufffd"])
def test_what_is_no_table_at_all_is_refused(text: str):
    with pytest.raises(InputError, match="--save: must be a table of a sweep over"):
        lines_of(text, AXES, RUNS, "--save")


def test_every_row_is_signed():
    for row in csv.DictReader(io.StringIO(text_of(AXES, swept()))):
        assert (row["version"], row["engine"], len(row["check"])) == (__version__, engine(), 12)


@pytest.mark.parametrize("text", ["side=1..99999999999", "side=1..1e300", "side=1..inf", "side=1..99999999999:7"])
def test_a_range_is_counted_before_it_is_built(text: str):
    with pytest.raises(InputError, match="--key: side must "):
        axis_of(text)


def test_runs_are_loaded_with_their_keys():
    base = load_game("tight-square")
    axes = [axis_of("side=9,10"), axis_of("touches=1,free"), axis_of("restarts.start.seconds=2.5")]
    runs = runs_of(base, axes, full_factorial(axes), 8, 1, lambda own: load_game("tight-square", own))
    assert [(run.game.areas[0].length, run.game.role("outside").touches) for run in runs] == [
        (9, 1), (9, None), (10, 1), (10, None),
    ]  # fmt: skip
    with pytest.raises(InputError, match="--key: side must be a whole number"):
        runs_of(base, [axis_of("side=wide,9")], [("wide",)], 8, 1, lambda own: base)


def test_every_row_is_a_row_of_csv():
    rows = list(csv.reader(io.StringIO(text_of(AXES, swept()))))
    assert len({len(row) for row in rows}) == 1
