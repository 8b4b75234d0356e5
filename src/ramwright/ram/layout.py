"""Memory layout of what goes into the kernel, what it carries along, and what comes out.

Plain records of numbers, SI units, heads in metres above the waste-valve seat. ``RamSystem`` is
turned into these by ``ram.grid``; nothing outside this room needs them.
"""

from __future__ import annotations

from typing import Any

import numpy as np

#: A row of one of the structured arrays below, as the kernel sees it.
Record = Any

MAX_SEGMENTS = 8
HISTORY = 16
STANDARD_GRAVITY = 9.80665

_f, _i = np.float64, np.int64

#: One ram on its grid. ``impedance`` is a/(gA) of each stretch; ``fric1``, ``fric2`` the head lost
#: per cell as ``fric1 w + fric2 w|w|`` with w = impedance times flow.
SYSTEM = np.dtype(
    [
        ("fall", _f), ("tailwater", _f), ("atmosphere", _f), ("vapour", _f), ("rho_g", _f),
        ("dt", _f), ("substeps", _i), ("segments", _i),
        ("cells", _i, (MAX_SEGMENTS,)), ("impedance", _f, (MAX_SEGMENTS,)),
        ("fric1", _f, (MAX_SEGMENTS,)), ("fric2", _f, (MAX_SEGMENTS,)),
        ("slip1", _f, (MAX_SEGMENTS,)), ("slip2", _f, (MAX_SEGMENTS,)),
        ("keep1", _f, (MAX_SEGMENTS,)), ("keep2", _f, (MAX_SEGMENTS,)),
        ("creep", _f, (MAX_SEGMENTS,)), ("gain", _f, (MAX_SEGMENTS,)),
        ("entrance", _f), ("tank_area", _f), ("source_flow", _f),
        ("port_flow", _f), ("port_loss", _f), ("curtain_loss", _f), ("stroke", _f), ("valve_mass", _f),
        ("open0", _f), ("open1", _f), ("open2", _f), ("valve_damping", _f),
        ("valve_force", _f), ("momentum", _f), ("leak_flow", _f),
        ("delivery_flow", _f), ("delivery_leak", _f), ("delivery_lag", _f), ("snifter_air", _f),
        ("pocket", _f, (MAX_SEGMENTS,)), ("pocket_level", _f, (MAX_SEGMENTS,)), ("air", _f), ("exponent", _f),
        ("lift", _f), ("inertia", _f), ("r1", _f), ("r2", _f),
        ("held", _i), ("mount_mass", _f), ("mount_stiffness", _f), ("mount_damping", _f), ("end_area", _f),
        ("body_compliance", _f), ("first_delivery", _f), ("closing_flow", _f),
        ("max_steps", _i), ("max_solves", _i), ("max_beats", _i), ("tolerance", _f),
        ("least_opening", _f), ("audit", _i), ("look", _f), ("patience", _f),
    ]
)  # fmt: skip

#: Everything that moves, apart from the water in the drive pipe.
STATE = np.dtype(
    [
        ("time", _f), ("opening", _f), ("valve_speed", _f), ("head", _f),
        ("vessel_head", _f), ("air", _f), ("line_flow", _f), ("level", _f), ("inflow", _f),
        ("cavity", _f), ("shift", _f), ("shift_speed", _f), ("ajar", _f), ("breathed", _f), ("drawn", _f),
        ("pocket", _f, (MAX_SEGMENTS,)), ("pocket_head", _f, (MAX_SEGMENTS,)),
        ("drive", _f), ("waste", _f), ("delivery", _f), ("inlet", _f), ("inlet_head", _f),
        ("step_peak", _f), ("step_low", _f), ("widest", _f), ("dt", _f),
        ("shut_event", _i), ("solves", _i),
        ("helped_head", _f), ("helped_miss", _f), ("helped_slope", _f),
        ("waste_work", _f), ("delivery_work", _f), ("cavity_work", _f), ("mount_work", _f),
        ("friction_work", _f), ("wall_work", _f),
    ]
)  # fmt: skip

#: Sums over one beat (closure to closure), and over the settled beats (``WINDOW`` below).
BEAT = np.dtype(
    [
        ("start", _f), ("time", _f), ("waste", _f), ("delivered", _f), ("inlet", _f), ("drive", _f),
        ("line", _f), ("recoil", _f), ("peak", _f), ("low", _f), ("closing_flow", _f),
        ("vessel_sum", _f), ("loss_sum", _f), ("vessel_high", _f), ("vessel_low", _f), ("bounces", _f),
        ("elapsed", _f), ("level_sum", _f), ("breathed", _f), ("drawn", _f),
    ]
)  # fmt: skip

#: Terms of the energy of the settled beats, each integrated by itself, in m4 of water (J / rho g), and
#: of the water that came, left and is held, m3.
AUDIT = np.dtype(
    [
        ("supplied", _f), ("entrance", _f), ("friction", _f), ("waste", _f), ("delivery_valve", _f),
        ("lift", _f), ("line_friction", _f), ("mount", _f), ("cavity", _f), ("wall", _f),
        ("stored_before", _f), ("stored_after", _f),
        ("water_in", _f), ("water_out", _f), ("held_before", _f), ("held_after", _f),
    ]
)  # fmt: skip

#: What one run comes to. Flows are means over whole settled beats, volumes are per beat; ``all_...`` are
#: volumes over the whole run from rest, ``time`` its length.
RESULT = np.dtype(
    [
        ("outcome", _i), ("beats", _i), ("steps", _i), ("settled", _i), ("solves", _i),
        ("delivery", _f), ("waste", _f), ("drive", _f), ("beat_time", _f),
        ("waste_volume", _f), ("delivered_volume", _f), ("recoil_volume", _f),
        ("peak", _f), ("low", _f), ("closing_flow", _f), ("bounces", _f),
        ("vessel_mean", _f), ("vessel_high", _f), ("vessel_low", _f), ("line_mean", _f), ("level", _f),
        ("delivery_least", _f), ("delivery_most", _f), ("beat_time_least", _f), ("beat_time_most", _f),
        ("air_volume", _f), ("drawn_volume", _f), ("all_delivered", _f), ("all_wasted", _f), ("time", _f),
        ("audit", AUDIT),
    ]
)  # fmt: skip

#: Columns of a trace, one row a time step.
TRACE = (
    "time", "head", "drive", "waste", "delivery", "opening", "vessel_head", "level", "line_flow", "inlet",
    "shift",
)  # fmt: skip

# Outcomes, as the kernel numbers them; ``starved`` is found outside it.
RUNS, HANGS_OPEN, HANGS_SHUT, CHATTERS, NO_PERIOD, LIFT_BEYOND, STARVED = range(7)
OUTCOMES = ("runs", "hangs_open", "hangs_shut", "chatters", "no_period", "lift_beyond", "starved")
