"""What `overload check` says of a file before anything is played: the rules, and what the file leaves out."""

from __future__ import annotations

from sim.game.loader import Reading
from sim.words.edge_cases import HEADING, edge_cases_in_words
from sim.words.ground_words import as_drawn
from sim.words.left_out import left_out_in_brief, left_out_in_words
from sim.words.rules import rules_in_words
from sim.words.screen import wrapped

LINES = 40
"""Of a screen: blank lines between the parts as far as there is room for them."""
TRIED = 4
"""Lines that stand below once the rules have been tried."""


def checked(reading: Reading, details: bool = False) -> str:
    """The rules in plain words; with `details` also what holds where it could be argued, and every value that is left out, else
    how many there are."""
    rules = rules_in_words(reading.game)
    if details:
        tell = as_drawn(reading.game)
        lines = [part for line in edge_cases_in_words(reading.game) for part in wrapped(tell(line), "  ")]
        return "\n\n".join(filter(None, [rules, "\n".join([HEADING, *lines]), left_out_in_words(reading.left_out)]))
    whole = "\n\n".join(filter(None, [rules, left_out_in_brief(reading.left_out)]))
    return whole if len(whole.splitlines()) + TRIED <= LINES else whole.replace("\n\n", "\n")
