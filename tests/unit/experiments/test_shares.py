"""Shares as typed: in per cent, as they are printed; what could be read in two ways is refused with both."""

from __future__ import annotations

import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.compare import worth_of
from sim.errors import InputError
from sim.experiments.adjust import GOALS
from sim.experiments.everyday import target_of
from sim.experiments.key_measures import MOST, aims_of
from sim.experiments.shares import is_share, share_of
from sim.game.loader import load_game

GAME = load_game("tight-square")
AIMS = aims_of(GAME)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("50", 0.5), ("50%", 0.5), ("0.5%", 0.005), ("12.5 %", 0.125), ("1", 0.01), ("0", 0.0), ("100", 1.0)],
)
def test_a_target_that_is_a_share_is_in_per_cent(typed, meant):
    assert target_of(f"{MOST}={typed}", GAME, AIMS) == (MOST, "game", pytest.approx(meant))
    assert target_of(f"{MOST}={typed}", GAME, AIMS, "--aim", GOALS)[2] == pytest.approx(meant)


def test_other_targets_are_what_they_are():
    assert target_of("turnovers=0.5", GAME, AIMS) == ("turnovers_per_min", "game", 0.5)
    assert target_of(f"{MOST}=least", GAME, AIMS) == (MOST, "game", "least")


@pytest.mark.parametrize(
    ("command", "option"),
    [(["tune", "tight-square", "--knob", "side=9..10"], "--target"), (["adjust", "tight-square"], "--aim")],
)
@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0.5", "must say which per cent, 50 or 0.5 %? Write 50% or 0.5% (got '0.5')"),
        ("101", "must be a share between 0 and 100 %, such as 5% (got '101')"),
        ("half", "must be a share between 0 and 100 %, such as 5% (got 'half')"),
    ],
)
def test_what_could_be_two_shares_is_refused_with_both(command, option, typed, said):
    result = CliRunner().invoke(app, [*command, option, f"{MOST}={typed}"], catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"{option} {MOST}: {said}\n"


def test_worthwhile_and_precision_are_typed_alike():
    assert worth_of("turnovers_per_min=15%", GAME) == worth_of("losses=15", GAME) == ("turnovers_per_min", 0.15)
    assert share_of("5%", "--precision") == share_of("5", "--precision") == 0.05
    for typed in ("0", "100", "0%"):
        with pytest.raises(InputError, match="must be a share between 0 and 100 %"):
            share_of(typed, "--precision")


def test_what_is_printed_in_per_cent_is_asked_for_in_per_cent():
    from sim.words.measure_phrases import name_in_table

    measures = {measure for measure, _ in (*AIMS, *aims_of(load_game("two-squares")))}
    assert {one for one in measures if is_share(one)} == {
        one for one in measures if name_in_table(one, "game", ()).endswith("%")
    }
