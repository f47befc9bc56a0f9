"""The middle run of passes of a session, as an assistant with a tally finds it: every run counts, as it stands when it ends."""

from __future__ import annotations

import numpy as np

from sim.measures.sessions import Group, Sessions


def median_of(counts: np.ndarray) -> float:
    """The middle one of runs counted by their passes; between the two in the middle of an even number."""
    return float(np.median(np.repeat(np.arange(len(counts)), counts.astype(int))))


def medians(sessions: Sessions, group: Group) -> np.ndarray:
    """Each session's middle run; 0 for one without any (see `with_runs`)."""
    return np.array([median_of(counts) if counts.any() else 0.0 for counts in sessions.runs(group)])


def with_runs(sessions: Sessions, group: Group) -> np.ndarray:
    """1 for a session with a run, else 0."""
    return sessions.runs(group).any(axis=1).astype(float)
