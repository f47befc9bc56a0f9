"""The checks of a small screen, each seen to fail."""

from __future__ import annotations

import pytest

from sim.experiments.cautions import LINE
from tests.support.screens import holds

GOOD = (
    "Keep-ball\n\nThey lose it about 4 times (usually 3 to 5: eight sessions in ten).\n\n  overload tune x --target turnovers=3\n"
    f"{LINE}"
)


@pytest.mark.parametrize(
    "bad",
    [
        "\n" * 14 + LINE,
        "x" * 81 + f"\n{LINE}",
        "Keep-ball",
        f"Clear after Holm's method\n{LINE}",
        f"sure, with a standard\nerror of 2\n{LINE}",
        f"2 turnovers a minute\n{LINE}",
        f"They lose it about 4 times (usually 3 to 5)\n{LINE}",
        f"4 (usually 3 to 5), give or take 1; usually: eight sessions in ten\n{LINE}",
        f"They lose it None times\n{LINE}",
    ],
)
def test_a_screen_that_is_not_as_it_should_be_is_found(bad):
    holds(GOOD)
    with pytest.raises(AssertionError):
        holds(bad)
