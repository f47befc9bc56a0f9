"""Derived figures from open tracking and event data, beside large games of ours.

Sources of the rows: A is optical tracking at 25 Hz of the first six minutes of a top-division men's match (236 s in play), with the
ball in three dimensions and events; B is optical tracking at 50 Hz of two minutes, with the ball; E are the events of three men's
matches (2,265 ground passes of 5-30 m, those behind M35 to M39), one with the places of all players at each event.  The
samples are small: `low` and `high` are about what they allow, widened by judgement.
"""
