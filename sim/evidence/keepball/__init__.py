"""Tight keep-ball beside what the trade expects of it: bands (common practice, no source), and the games they are played in."""
