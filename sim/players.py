"""Players as numbers: the profile the engine plays with.  (Presets: `sim.populations`; drawing: `draw_roster`.)"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Profile:
    """One player's abilities, SI units.

    vmax_mps, tau_s           mono-exponential sprint
    brake_mps2                hardest braking
    reaction_s, reaction_sd_s whole-body reaction to a kick: lognormal mean and SD per event
    pass_success              share of unpressed 10 m passes a standing receiver controls (0.50-0.995)
    first_touch               chance of a miscontrol when nobody presses and the ball comes to feet (0-0.2)
    pressing_speed_mps        mean speed over 8 m from standing when pressing
    recovery_s                standing half-time of the hard-running reserve (20-180)
    composure                 0-1, how well the best option is chosen under pressure
    duel                      skill in tackles and shielding, logit units, 0 is the population mean
    critical_speed_mps, reserve_m   critical speed and D'
    """

    vmax_mps: float
    tau_s: float
    brake_mps2: float
    reaction_s: float
    reaction_sd_s: float
    pass_success: float
    first_touch: float
    pressing_speed_mps: float
    recovery_s: float
    composure: float
    duel: float
    critical_speed_mps: float
    reserve_m: float
