"""What an assumption or a lever is called beside its row in a picture: by its note, never by its name in the code."""

from __future__ import annotations

import re

from sim.pitch.assumptions import ENGINE
from sim.words.plots import key_named

TRAITS = {
    "vmax_mps": "top speed",
    "tau_s": "time to get going",
    "brake_mps2": "braking",
    "reaction_s": "reaction time",
    "reaction_sd_s": "how much reaction time varies",
    "pass_success": "pass success",
    "first_touch": "poor first touches",
    "pressing_speed_mps": "pressing speed",
    "recovery_s": "recovery time",
    "composure": "calm on the ball",
    "duel": "strength in duels",
    "critical_speed_mps": "speed they can keep up",
    "reserve_m": "hard running in the tank",
}
OWN = {  # where the note leans on the row above it
    "control_time_sd": "how much that time to control the ball varies",
    "control_pressed": "how much longer control takes beside an opponent",
    "cover_most": "how far from his man a covering defender stands at most",
    "urgency_defence": "how long a covering defender may take over a run",
    "urgency_transition": "how long runs after a loss may take",
    "release_fall": "how fast a carrier's patience runs out",
    "edge_inset": "how far inside the line outside players stand",
    "move_cost": "how far a player will move for a better place",
    "read_time": "how long a receiver takes to read a pass",
    "intercept_reach": "how far an opponent stretches to cut out a pass",
    "receiver_reach": "how far a receiver stretches to control a pass",
    "hold_expected": "how long the others expect him to hold it",
    "choice_noise": "how often a carrier picks the wrong pass",
    "anticipation": "how early an obvious pass is read",
    "lane_doubt": "how unsure a carrier is of who gets there first",
    "urgency_attack": "how long a run off the ball may take",
}
BREAK = re.compile(r"[,;:(]")


def moved_name(kind: str, name: str) -> str:
    """A constant by what it is, a trait by whose it is, a lever by what is turned."""
    if kind == "lever":
        return key_named(name)
    if kind == "players":
        whose, _, trait = name.rpartition(" ")
        return f"{TRAITS.get(trait, trait.replace('_', ' '))} of {whose}"
    notes = {row.name: row.note for row in ENGINE}
    return OWN.get(name) or BREAK.split(notes.get(name, name.replace("_", " ")))[0].strip()
