"""Short game files that several tests begin with."""

from __future__ import annotations

SQUARE = """
areas.square.length = 18
roles.outside = { players = 6, touches = 2, style = "edge" }
roles.inside.players = 3
"""
GOALS = """
areas.pitch = { length = 40, width = 25 }
goals.west-goal = { at = "west end of pitch", attacked_by = "slate", other_side = true }
roles.outfield.players = { amber = 4, slate = 4 }
roles.west-keeper = { place = "west-goal", players = { amber = 1 }, other_side = true }
"""
