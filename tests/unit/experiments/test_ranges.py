"""Lists and ranges: one way to write them, for tune, sweep and compare."""

from __future__ import annotations

import pytest

from cli.compare import tweaks
from sim.errors import InputError
from sim.experiments.designs import axis_of
from sim.experiments.knobs import knob_of
from sim.experiments.ranges import parts, values_of, variants_of


@pytest.mark.parametrize(
    ("typed", "values"),
    [
        ("8..10", ("8", "9", "10")),
        ("8,10,12", ("8", "10", "12")),
        ("8..14:2", ("8", "10", "12", "14")),
        ("8..10,14", ("8", "9", "10", "14")),
        (" 8 , 9 ", ("8", "9")),
    ],
)
def test_a_list_is_the_same_for_every_command(typed, values):
    assert knob_of(f"side={typed}").values == tuple(int(value) for value in values)
    assert axis_of(f"side={typed}").values == values
    assert [change for _, change in tweaks([f"side={typed}"], None, [])] == [(f"side={value}",) for value in values]


@pytest.mark.parametrize(
    "typed",
    ["8..14..2", "14..8", "8..14:0", "8..14:-1", "8..", "..8", "8,,9", "8..x", "8..1e99", "8..14:2:3", "1..nan"],
)
def test_what_is_no_list_is_refused_by_every_command(typed):
    for read in (knob_of, axis_of, lambda text: tweaks([text], None, [])):
        with pytest.raises(InputError, match="side") as refusal:
            read(f"side={typed}")
        assert len(refusal.value.problems) == 1


def test_the_old_way_is_told_the_new_one():
    with pytest.raises(InputError, match="side=8..14..2 is now written side=8..14:2"):
        knob_of("side=8..14..2")


def test_what_is_in_brackets_or_quotes_is_one_value():
    assert parts("{ a = 1, b = 2 }, [3, 4], \"x, y\", 'p, q'") == ["{ a = 1, b = 2 }", "[3, 4]", '"x, y"', "'p, q'"]
    whole = "roles.x.players={ amber = 4, slate = 3 }"
    assert tweaks([whole, 'title="one..two, three"'], None, []) == [("changed", (whole, 'title="one..two, three"'))]


def test_lists_together_are_every_combination():
    found = variants_of(["side=8,9", "touches=1", "passes=4..5"], "--change")
    assert found[0] == ("side 8, passes 4", ("side=8", "touches=1", "passes=4")) and len(found) == 4
    with pytest.raises(InputError, match="--change: must come to 20 tweaks at most"):
        variants_of(["side=1..5", "touches=1..5"], "--change")
    with pytest.raises(InputError, match="--name: must go with one tweak"):
        tweaks(["side=8,9"], "smaller", [])


def test_values_are_counted_before_they_are_built():
    with pytest.raises(InputError, match="side must have 40 values at most"):
        values_of("1..999999999", "side", "--knob", 40)
