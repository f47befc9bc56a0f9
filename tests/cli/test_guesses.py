"""A coach who types --touches 1 is told what to write."""

from __future__ import annotations

import pytest
from typer.testing import CliRunner

from cli.app import app


@pytest.mark.parametrize("guess", ["touches", "side", "defenders"])
def test_a_name_that_can_be_set_is_no_option_and_says_so(guess):
    result = CliRunner().invoke(app, ["estimate", "tight-square", f"--{guess}", "1"])
    assert result.exit_code == 2
    assert result.stderr == f"--{guess} is not an option: write --set {guess}=VALUE\n"


def test_any_other_option_is_left_to_the_usual_words():
    result = CliRunner().invoke(app, ["estimate", "tight-square", "--nonsense", "1"])
    assert result.exit_code == 2 and "No such option" in result.stderr
