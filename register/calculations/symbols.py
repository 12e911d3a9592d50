"""The symbols of the formulas: which input or intermediate value stands behind each. Reading aid only.

An input is named as it is, an intermediate value as the result names it; the first that is stated counts.
"""

from collections.abc import Mapping

Sources = tuple[str, ...]
_ARC = {"U": ("voltage",), "I": ("current",), "v": ("travel_speed",), "t": ("arc_time",), "L": ("run_length",)}
_K = {"E": ("arc_energy",), "k": ("k",)}
_WAVE = {"IE": ("instantaneous_energy",), "IP": ("instantaneous_power",), "v": ("travel_speed",), "L": ("run_length",)}
_COOL = {
    "Q": ("heat_input",), "T0": ("preheat",), "d": ("thickness",), "t": ("time",),
    "F2": ("F2", "f2", "default.f2"), "F3": ("F3", "f3", "default.f3"),
}  # fmt: skip
_ELEMENTS = ("C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "Nb", "B")
_ANALYSIS = {element: (f"analysis.{element}",) for element in _ELEMENTS}
_FILLET = {
    "z1": ("leg",), "z2": ("leg_2", "leg"), "ψ": ("angle", "default.angle"), "a": ("throat",),
    "c": ("convexity_factor",), "w": ("face_width",), "hc": ("cap_height",),
}  # fmt: skip
_WIRE = {
    "d": ("wire_diameter",), "WFS": ("wire_feed_speed",), "ρ": ("density",), "DE": ("efficiency",),
    "A_wire": ("wire_area",), "A_run": ("run_area",), "v": ("travel_speed",), "MR": ("result",),
}  # fmt: skip
_STRENGTH = {"fu": ("fu",), "βw": ("beta_w",), "γM2": ("gamma_m2", "default.gamma_m2"), "a": ("throat",)}
SYMBOLS: Mapping[str, Mapping[str, Sources]] = {
    "arc_energy": _ARC,
    "heat_input": _ARC | _K,
    "arc_energy_waveform": _WAVE,
    "heat_input_waveform": _WAVE | _K,
    "heat_input_from_arc_energy": _K,
    "heat_input_run_out": {
        "d": ("core_diameter",), "L": ("consumed_length",), "F": ("F",), "ROL": ("run_out_length",),
    },
    "travel_speed_window": {
        "k": ("k",), "U": ("voltage",), "I": ("current",), "Q": ("heat_input.min",), "Q most": ("heat_input.max",),
    },
    "groove_area": {
        "b": ("gap",), "t": ("thickness",), "h": ("depth_1",), "h1": ("depth_1",), "h2": ("depth_2",),
        "w1": ("width_1",), "w2": ("width_2",), "hc1": ("cap_height",), "hc2": ("cap_height_2",),
        **dict.fromkeys(("α", "β", "α1", "β1"), ("angle",)), "α2": ("angle_2", "angle"), "β2": ("angle_2", "angle"),
    },
    "carbon_equivalent": _ANALYSIS,
    "carbon_equivalent_d11": _ANALYSIS,
    "cet": _ANALYSIS,
    "pcm": _ANALYSIS,
    "cen": _ANALYSIS | {"A(C)": ("A(C)",)},
    "cen_factor": {"C": ("carbon",)},
    "preheat_method_b": {
        "CET": ("CET_counting",), "d": ("thickness",), "HD": ("hydrogen",), "Q": ("heat_input",),
    },
    "d11_susceptibility_index": {"Pcm": ("pcm",), "H": ("hydrogen",)},
    "cooling_time": _COOL,
    "cooling_time_2d": _COOL,
    "cooling_time_3d": _COOL,
    "transition_thickness": _COOL,
    "heat_input_for_cooling_time": _COOL,
    "fillet_throat": _FILLET,
    "fillet_leg": _FILLET,
    "fillet_area": _FILLET,
    "fillet_least_length": {"a": ("throat",)},
    "fillet_effective_length": {"l": ("length",), "a": ("throat",)},
    "fillet_shear_strength": _STRENGTH,
    "fillet_resistance": _STRENGTH,
    "deposit": {"A": ("area",), "ρ": ("density",)},
    "runs": {"A": ("area",), "A_run": ("run_area",)},
    "deposition_efficiency": {"deposited": ("deposited",), "used": ("used",)},
    "filler_to_buy": {"m": ("mass",), "DE": ("efficiency",)},
    "arc_time": {"m": ("mass",), "DR": ("deposition_rate",), "factor": ("operating_factor",)},
    "weld_metal": {
        "A": ("area",), "ρ": ("density",), "L": ("length",), "DE": ("efficiency",), "DR": ("deposition_rate",),
        "A_run": ("run_area",), "m": ("deposited",),
    },
    "melt_off": _WIRE,
    "deposition_rate_by_length": {
        "WFS": ("wire_feed_speed",), "L": ("length_per_mass",), "DE": ("efficiency", "default.efficiency"),
    },
    "throat_with_penetration": {"a": ("throat",), "p": ("penetration",)},
    "convexity_limit": {"b": ("face_width",)},
    "fillet_long_joint_factor": {"Lj": ("joint_length",), "a": ("throat",)},
    "fillet_leg_with_gap": {"z": ("leg",), "g": ("gap",)},
    "shielding_gas": {
        "q": ("flow",), "t_arc": ("arc_time",), "t_idle": ("flow_without_arc",), "factor": ("waste_factor",),
    },
    "burn_off": {
        "α": ("alpha",), "β": ("beta",), "I": ("current",), "Lₑ": ("stick_out",), "A": ("wire_area",),
    },
    "temperature_measuring_distance": {"t": ("thickness",)},
    "deposition_rate_us": {"d": ("diameter",), "WFS": ("wire_feed_speed",), "DE": ("efficiency",)},
    "deposition_rate_weighed": {"m": ("mass",), "t": ("time",)},
    "travel_speed_for_area": _WIRE,
    "run_area": _WIRE,
    "cylinder_time": {"V": ("volume",), "q": ("flow",)},
    "gas_per_metre": {"q": ("flow",), "v": ("travel_speed",)},
    "turned_position_along": {"ψ": ("stated.face_angle",), "ψ'": ("signed_face_angle",), "θ": ("turn",)},
}  # fmt: skip
"""Calculation to symbol to its sources. A formula that is a table or an algorithm is printed as it is."""
