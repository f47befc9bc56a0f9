"""What each assumption is about, as a coach would say it: "what matters most is ..."."""

from __future__ import annotations

import re
from collections.abc import Mapping

from sim.pitch.assumptions import ENGINE
from sim.populations import KINDS

PLAY: Mapping[str, str] = {
    "ball_roll": "how fast the ground slows the ball",
    "ball_slide": "how fast a pass slows at first",
    "ball_changeover": "how long a pass slides before it rolls",
    "receiver_reach": "how far a receiver can stretch for a pass",
    "intercept_reach": "how far a defender can stretch to cut out a pass",
    "read_time": "how long a receiver takes to read a pass",
    "arrival_noise": "luck in a race to the ball",
    "weight_error": "how well passes are weighted",
    "pace_spread": "how differently passes are hit",
    "first_time_error": "how accurate first-time passes are",
    "pressed_error": "how accurate passes are under pressure",
    "stretch_error": "how accurate first-time passes are at full stretch",
    "speed_error": "how accurate first-time passes of a fast ball are",
    "stale_look": "how often the one on the ball looks up",
    "stale_first_time": "how early they look before a first-time pass",
    "lane_doubt": "how sure they are that a pass gets through",
    "next_weight": "how much they look for a receiver with time",
    "next_time": "how much time a receiver is thought to need",
    "choice_noise": "how well they choose their passes",
    "choice_noise_first": "how well they choose when playing first time",
    "anticipation": "how well defenders guess the pass",
    "anticipation_one_touch": "how well defenders guess a one-touch pass",
    "control_time": "how long they take to control a ball",
    "control_pressed": "how much longer control takes under pressure",
    "control_time_sd": "how much their control varies",
    "contact_time": "how long a first-time pass takes",
    "look_interval": "how often the one on the ball changes his mind",
    "release_worth": "how fast they pass",
    "release_fall": "how fast they pass after some time on the ball",
    "first_time_share": "how often they play first time",
    "miscontrol_pressed": "how often a touch goes wrong under pressure",
    "miscontrol_stretch": "how often a touch goes wrong at full stretch",
    "touch_chance": "how often a defender who gets there touches the pass",
    "steal_control": "how often a ball cut out is kept",
    "tackle_reach": "how close a tackler has to be",
    "tackle_rate": "how often they go in for a tackle",
    "passing_tackles": "how often a defender who does not press goes in for a tackle",
    "covered_within": "how near a team-mate has to be for the presser to be covered",
    "covered_tackles": "how often a covered presser goes in for a tackle before a goal",
    "uncovered_tackles": "how often a presser nobody covers goes in for a tackle before a goal",
    "delay_wider": "how much further off a presser stays whom nobody covers before a goal",
    "tackle_win": "how often a tackle is won",
    "tackle_loose": "how often a tackle knocks the ball loose",
    "beaten_time": "how long a beaten tackler is out of it",
    "stand_off": "how close the presser stands",
    "cover_share": "where the covering defender stands",
    "cover_most": "how far from his man a covering defender stands",
    "press_slack": "how readily a presser goes in",
    "hold_expected": "how long they expect each other to hold it",
    "urgency_attack": "how hard they run to get free",
    "urgency_defence": "how hard covering defenders run",
    "urgency_transition": "how hard they run after a loss",
    "transition_window": "how long a loss makes them run hard",
    "effort": "how hard they push off in ordinary runs",
    "walk": "how slowly they move off the ball",
    "run_cap": "how fast ordinary runs get",
    "deadband": "how small a move they still make",
    "replan": "how often players off the ball change their minds",
    "dribble": "how fast they carry the ball",
    "dribble_touch": "how often they touch it on a carry",
    "past": "how often they get past a man they take on",
    "past_within": "how near a man is when they take him on",
    "past_from": "how far from goal they still take a man on",
    "past_before": "how squarely a man stands before them when they take him on",
    "past_noise": "how differently they judge whether to take a man on",
    "past_on": "how far they run on past him",
    "past_wide": "how wide of him they go past",
    "past_time": "how soon they look up after going past",
    "past_last": "how much they want to be past the last man",
    "edge_inset": "where outside players stand on their line",
    "spread_attack": "how wide they spread with the ball",
    "ball_shift": "how far the team shifts with the ball",
    "move_cost": "how readily they move to get free",
    "block_radius": "how often a ball hits somebody who stands close",
    "shot_speed": "how hard they shoot",
    "shot_error": "how accurate their shots are",
    "shot_rise": "how often their shots go over the bar",
    "keeper_reach": "what a keeper reaches without diving",
    "keeper_speed": "how fast a keeper dives",
    "shot_block": "how often a shot is blocked",
    "shot_worth": "how good a chance makes them shoot at once",
    "progress_weight": "how much they want to go forward",
    "tiring_scale": "how fast they tire",
    "tired_speed_least": "how much speed tired legs lose",
    "tired_error": "how much worse tired players pass",
    "tired_reaction": "how much slower tired players react",
    "first_time_weight": "how well first-time passes are weighted",
    "transfer_worth": "how much they want to play across",
    "pacing": "how much tired players save themselves",
    "plan_time": "how much they save themselves in a long bout",
    "dead_pace": "how fast they walk back when the ball is out",
    "recovery_slows": "how much slower each recovery gets",
    "fitness_share": "how much fitness sets the pace of ordinary runs",
    "stay_worth": "how readily outside players move at all",
    "edge_move_cost": "how far outside players move along their line",
    "edge_spacing": "how much room outside players have along their line",
    "pull": "how strictly they hold their places",
    "held_pull": "how strictly fixed positions are held",
    "patience": "how patient a side told to play slowly is",
    "lunge": "how far defenders lunge at a ball",
    "lead_most": "how far into space they pass",
    "open_share": "how fast they carry it into space",
    "press_lead": "how far ahead of the carrier a presser runs",
    "tuck_in": "how far defenders tuck in",
    "recover": "how far defenders run back behind the ball",
    "run_gain": "how good a run has to be to be made",
    "outside_danger": "how much defenders mind outside players",
    "transition_cap": "how fast they run after a loss",
    "read_keenness": "how well those without the ball guess the next pass",
}
"""Constants of the engine that a screening moves; the others go by their own note."""

PLAYERS: Mapping[str, str] = {
    "vmax_mps": "how fast they are",
    "tau_s": "how quick they are off the mark",
    "brake_mps2": "how sharply they stop",
    "reaction_s": "how fast they react",
    "reaction_sd_s": "how much their reactions vary",
    "pass_success": "how well they pass",
    "first_touch": "how good their first touch is",
    "pressing_speed_mps": "how fast they press",
    "recovery_s": "how fast they recover",
    "composure": "how composed they are under pressure",
    "duel": "how good they are in tackles",
    "critical_speed_mps": "what pace they can keep up",
    "reserve_m": "how much hard running they have in them",
}
LEVERS: Mapping[str, str] = {
    "side": "the size",
    "touches": "the touch limit",
    "passes": "the number of passes asked for",
}
NOTES: Mapping[str, str] = {row.name: row.note for row in ENGINE} | {kind.name: kind.note for kind in KINDS}


def reason_of(name: str, kind: str, alone: bool = True) -> str:
    """What a row is about; `alone`: whether there is only one kind of player, so that whose it is need not be said."""
    if kind == "lever":
        return LEVERS.get(name, name.replace("_", " "))
    if kind == "play":
        return PLAY.get(name) or first_clause(NOTES[name])
    whose, _, trait = name.rpartition(" ")
    text = PLAYERS[trait]
    return text if alone or not whose else f"{text} ({whose})"


def first_clause(note: str) -> str:
    """A note up to its first pause."""
    return re.split(r"[;,:(]", note)[0].strip()
