"""What each row of the evidence is about, in plain words, before its code: "metres a minute, youth, 4 v 4 (M05)"."""

from __future__ import annotations

import re

from sim.evidence import tables
from sim.evidence.table import Line

QUANTITIES = {
    "total distance per min": "metres a minute",
    "share of distance covered at 0-7 km/h": "share of the metres below 7 km/h",
    "longest single run above 18 km/h": "longest run above 18 km/h",
    "distance at 14.5-19.9 / 19.9-25.2 km/h in 12 min": "fast metres in 12 min, km/h",
    "maximum speed": "top speed reached",
    "high-intensity running / sprint distance per bout set": "fast metres in a set of bouts",
    "actions per player per min (children 10 y)": "actions a player a minute",
    "success share of actions (children 10 y)": "share of actions that come off",
    "tackles per game of 16 min": "tackles in 16 min",
    "touches per release": "touches each time on the ball",
    "time on the ball per individual possession": "seconds each time on the ball",
    "touches per individual possession": "touches each time on the ball",
    "speed of the receiver at reception": "speed at which a pass is met",
    "larger v smaller area per player: total distance": "larger area: metres",
    "larger v smaller area per player: high-speed distance": "larger area: fast metres",
    "high-speed / very-high-speed / sprint distance pooled over sided games": "fast metres a minute",
    "mean heart rate": "heart rate",
    "decline of distance and sprints from first to last 4 min quarter": "first to last quarter: metres and sprints",
    "man-marking v free: share of heart-rate reserve": "man-marking: heart rate",
    "regular v floater: total distance and running above 14.4 km/h": "floaters beside the others: metres",
    "overload: total distance and accelerations of 4v3 relative to 3v3": "one more attacker: metres and accelerations",
    "1v1 won by the carrier": "one against one won by the carrier",
    "ground pass speed by length 5-10 / 10-15 / 15-20 / 20-30 m (median)": "speed of ground passes, by metres",
    "ground pass completion by length 5-10 / 10-15 / 15-20 / 20-30 m not under pressure": "passes that arrive, free, by metres",
    "ground pass completion by length 5-10 / 10-15 / 15-20 m under pressure": "passes that arrive, pressed, by metres",
    "time from reception to ground pass: 10 / 25 / 50 / 75 / 90% points": "seconds from first touch to pass, shares of passes",
    "median time from reception to ground pass: free v under pressure": "seconds from first touch to pass",
    "ball roll on football turf from a 1 m high 45 degree ramp": "how far the ball rolls on turf",
    "between-session coefficient of variation of total distance per min": "metres a minute, from one session to the next",
}  # fmt: skip
PEOPLE = {
    "10 youth men": "youth", "16 youth men": "youth", "16 youth men 16.3 y": "youth", "12 youth": "youth", "18 youth": "youth",
    "12 professional men": "professionals", "21 professionals": "professionals", "28 professionals 11v11": "professionals",
    "three professional matches": "professionals", "10 elite men": "elite men", "41 elite": "elite men",
    "8 elite youth": "elite youth", "60 elite U15": "elite U15", "103 children": "children of ten", "20 amateurs": "amateurs",
    "734 duels in 43 matches": "matches", "adults (meta-analysis)": "adults", "meta-analysis of 11 studies": "11 studies",
    "professionals / youth": "professionals and youth", "standard": "turf standard",
}  # fmt: skip
MEASURES = {
    "accelerations_per_km": "accelerations a km",
    "accelerations_per_min": "accelerations a minute",
    "completed_per_min": "passes that arrive a minute",
    "completion": "share of passes that arrive",
    "distance_cv": "metres, from one session to the next",
    "distance_per_min": "metres a minute",
    "hard_accelerations_per_min": "hard accelerations a minute",
    "heart_rate_pct": "heart rate",
    "in_play_share": "ball in play",
    "losses_per_min": "losses a minute",
    "losses_per_pass": "losses a pass",
    "metres_per_min:14.4-99": "metres a minute above 14.4 km/h",
    "metres_per_min:25.2-99": "metres a minute above 25.2 km/h",
    "on_ball_s": "seconds on the ball",
    "outs_per_min": "balls out a minute",
    "passes_per_min": "passes a minute",
    "peak_kmh": "top speed reached",
    "perceived_effort": "effort felt",
    "reached:3": "3 passes reached",
    "reached:4": "4 passes reached",
    "reached:5": "5 passes reached",
    "receiver_space_m": "room of the receiver",
    "share:14.4-99": "share of the metres above 14.4 km/h",
    "support_arrival_s": "seconds until support arrives",
    "tackles_per_min": "tackles a minute",
    "touches_per_min": "touches a minute",
    "turns_per_km": "turns a km",
    "turns_per_min": "turns a minute",
}
AGAINST = re.compile(r"(\d)v(\d)")


def subject_and_code(line: Line) -> str:
    """What the row is about, and its code."""
    return f"{subject_of(line)} ({line.part})"


def subject_of(line: Line) -> str:
    """What the row is about."""
    if line.kind == "direction":
        claim, _, measure = line.what.removesuffix("]").rpartition(" [")
        counted = [MEASURES.get(one, one) for one in measure.split(">")]
        return f"{claim}: {' and '.join(counted)}" if claim else line.what
    known = {one.id: one for one in tables.measurements()}
    measured = known.get(re.split(r"[/-]", line.row)[0])
    if measured is None:
        return line.what
    tail = line.part.partition(" ")[2]
    single = tail or (several(line.row) if line.row != measured.id else measured.format)
    area = measured.area_per_player_m2 if not tail and line.row == measured.id else ""
    parts = (
        QUANTITIES.get(measured.quantity, measured.quantity),
        PEOPLE.get(measured.population, measured.population),
        AGAINST.sub(r"\1 v \2", single),
        f"{area} m2 a player" if area else "",
    )
    return ", ".join(part for part in parts if part)


def several(row: str) -> str:
    """A row made of others."""
    return f"{row.replace('/', ' over ')}" if "/" in row else f"{row.replace('-', ' to ')} together"
