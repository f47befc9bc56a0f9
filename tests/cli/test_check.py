"""`overload check` plays a few bouts after the rules, and names what never comes about."""

from __future__ import annotations

from typer.testing import CliRunner

from cli.app import app
from sim.game.loader import read_game
from sim.words.checked import LINES, TRIED, checked

SHORT = ["bouts.count=2", "bouts.minutes=0.5"]
POINT = "phases.keep.rules.point.count"


def tried(name: str, *changes: str, bouts: int = 4, seed: int = 1) -> list[str]:
    """The lines that stand after the rules."""
    options = [word for change in (*SHORT, *changes) for word in ("--set", change)]
    result = CliRunner().invoke(
        app,
        ["check", name, *options, "--bouts", str(bouts), "--seed", str(seed), "--workers", "1"],
        catch_exceptions=False,
    )
    assert result.exit_code == 0, result.stderr
    rules = f"{checked(read_game(name, [*SHORT, *changes]))}\n"
    assert result.stdout.startswith(rules)
    return result.stdout.removeprefix(rules).splitlines()


def test_it_says_that_every_rule_fired():
    assert tried("tight-square") == ["", "Tried", "  Played 4 bouts of it (seed 1).", "  Every rule came up."]


def test_it_names_a_rule_that_never_fired_and_the_number_that_is_never_reached():
    lines = tried("even-keep-ball", f"{POINT}=60", seed=3)
    assert lines[2] == "  Played 4 bouts of it (seed 3)."
    assert lines[3].startswith("  60 passes: never reached.")
    assert lines[4:] == ["  Never came up in 4 bouts: point."]


def test_whole_sessions_are_played():
    assert tried("tight-square", bouts=3)[2] == "  Played 4 bouts of it (seed 1)."


def test_with_no_bouts_it_reads_the_rules_only():
    assert tried("tight-square", bouts=0) == []


def test_what_is_left_out_is_counted_on_the_screen_and_named_in_the_details():
    short = {"areas": {"square": {"length": 18}}, "roles": {"out": {"players": 6}, "in": {"players": 3}}}
    reading = read_game(short)
    brief, whole = checked(reading), checked(reading, details=True)
    assert len(brief.splitlines()) + TRIED <= LINES < len(whole.splitlines())
    assert f"{len(reading.left_out)} values left out of the file, so as usual; --details shows them." in brief
    assert "areas.square.width = 18" in whole and "areas.square.width" not in brief
    assert "inside the { } where its table stands in braces" in " ".join(whole.split())
