"""What a loss is stands under every table in the word that the table has."""

from __future__ import annotations

from sim.experiments.key_measures import LOST
from sim.words.losses import footer


def test_the_foot_of_a_table_speaks_of_losses():
    for measures in ({"turnovers_per_min"}, {"turnovers_per_min", LOST}):
        assert footer(measures).startswith("A loss is any time they give it away") and "turnover" not in footer(
            measures
        )
    assert footer({"turnovers_per_min", LOST}).endswith("; a shot is not one.")
