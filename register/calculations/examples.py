"""A worked example for each calculation, to fill the form with: figures that are printed in public sources or
reckoned by hand, the same as the check cases of the calculations. Units are SI unless the text names another.
"""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from codes.calc.calculation import Calculation, Input
from codes.calc.conversions import in_us
from codes.parse import Plain
from codes.units import System
from codes.values import number
from register.calculations.typed import shown_unit
from register.own_units.words import short

_NO_WAVE: dict[str, Plain] = {"waveform_controlled": "no"}
_STEEL: Mapping[str, Plain] = {
    "C": "0.16", "Si": "0.3", "Mn": "1.4", "Cu": "0.03", "Ni": "0.03", "Cr": "0.04", "Mo": "0.005", "V": "0.003",
    "Nb": "0.02",
}  # fmt: skip
_GRAPH: Plain = "75: 40 1.0; 60 1.6; 80 2.4\n100: 40 0.8; 60 1.2; 80 1.8"
EXAMPLES: Mapping[str, Mapping[str, Plain]] = {
    "arc_energy": {"voltage": "20", "current": "300", "travel_speed": "150", **_NO_WAVE},
    "heat_input": {"voltage": "24", "current": "180", "travel_speed": "300", "process": "135", **_NO_WAVE},
    "arc_energy_waveform": {"instantaneous_power": "7100", "travel_speed": "420"},
    "heat_input_waveform": {"instantaneous_energy": "84000", "run_length": "60", "k": "0.8"},
    "heat_input_from_arc_energy": {"arc_energy": "40 kJ/in", "k": "0.8"},
    "heat_input_run_out": {
        "core_diameter": "4", "consumed_length": "410", "run_out_length": "200", "electrode_efficiency": "up to 95",
    },
    "heat_input_window": {
        "voltage": ["24", "28"], "current": ["200", "250"], "travel_speed": ["300", "400"], "process": "135",
        **_NO_WAVE,
    },
    "travel_speed_window": {
        "voltage": "28.5", "current": "270", "heat_input": ["0.8", "1.6"], "k": "0.8", **_NO_WAVE,
    },
    "carbon_equivalent": {"analysis": _STEEL},
    "carbon_equivalent_d11": {"analysis": _STEEL},
    "cet": {"analysis": _STEEL},
    "pcm": {"analysis": _STEEL, "assumed_zero": "B"},
    "cen": {"analysis": _STEEL, "assumed_zero": "B"},
    "cen_factor": {"carbon": "0.12"},
    "preheat_method_b": {"cet": "0.3325", "thickness": "31.75", "hydrogen": "5", "heat_input": "1.26"},
    "preheat_method_a_table": {
        "carbon_equivalent": "0.43", "hydrogen": "6", "heat_input": "2.0", "combined_thickness": "62",
    },
    "preheat_method_a": {
        "graph_ce": "0.45", "graph_scale": "D", "lines": _GRAPH, "carbon_equivalent": "0.43", "hydrogen": "4",
        "heat_input": "1.3", "combined_thickness": "60",
    },
    "d11_susceptibility_index": {"pcm": "0.2422", "hydrogen": "5"},
    "d11_susceptibility_group": {"pcm": "0.27", "hydrogen_level": "H2"},
    "d11_minimum_preheat": {"restraint": "medium", "group": "C", "thickness_mm": "25"},
    "d11_prequalified_preheat": {"categories": "B", "thickness_mm": "25"},
    "temperature_measuring_distance": {"thickness": "12"},
    "interpass_check": {"highest": "250", "preheat": "100", "steel": "normalised"},
    "cooling_time": {"heat_input": "1.2", "preheat": "100", "thickness": "15", "form": "butt_fill"},
    "cooling_time_3d": {"heat_input": "1.0", "preheat": "20", "f3": "1"},
    "cooling_time_2d": {"heat_input": "1.0", "preheat": "20", "thickness": "10", "f2": "1"},
    "transition_thickness": {"heat_input": "1.0", "preheat": "20"},
    "heat_input_for_cooling_time": {
        "time": "10", "preheat": "120", "thickness": "100", "form": "butt_fill",
    },
    "heat_input_for_cooling_window": {
        "time": ["6", "15"], "preheat": "100", "thickness": "30", "form": "butt_fill",
    },
    "interpass_for_cooling_time": {"heat_input": "1.5", "time": "15", "thickness": "100", "form": "butt_fill"},
    "combined_thickness": {"form": "tee", "thicknesses": ["15", "15", "15"]},
    "averaged_thickness": {"segments": [["30", "25"], ["20", "50"]]},
    "groove_area": {"preparation": "single_v", "thickness": "15", "gap": "2", "root_face": "1", "angle": "60"},
    "fillet_area": {"throat": "5"},
    "fillet_throat": {"leg": "8", "leg_2": "12"},
    "fillet_leg": {"throat": "5"},
    "deposit": {"area": "80.645", "density": "7.833"},
    "runs": {"area": "143.16", "run_area": "28"},
    "deposition_efficiency": {"deposited": "3", "used": "4"},
    "filler_to_buy": {"mass": "0.276", "efficiency": "90"},
    "arc_time": {"mass": "0.19625", "deposition_rate": "4.5"},
    "weld_metal": {
        "area": "143.16", "length": "1", "efficiency": "96", "deposition_rate": "4.0", "run_area": "28",
    },
    "melt_off": {"wire_diameter": "1.2", "wire_feed_speed": "10", "efficiency": "96"},
    "deposition_rate_weighed": {"mass": "0.095", "time": "60"},
    "deposition_rate_us": {"wire_diameter": ".052 in", "wire_feed_speed": "320 in/min", "efficiency": "98"},
    "deposition_rate_by_length": {"length_per_mass": "2196 in/lb", "wire_feed_speed": "400 in/min"},
    "travel_speed_for_area": {"wire_diameter": "1.2", "wire_feed_speed": "8", "efficiency": "96", "run_area": "19.8"},
    "run_area": {"wire_diameter": "1.2", "wire_feed_speed": "8", "efficiency": "96", "travel_speed": "439"},
    "burn_off": {"current": "250", "stick_out": "15", "wire_diameter": "1.2", "alpha": "0.006", "beta": "0.0000005"},
    "shielding_gas": {"flow": "15", "length": "1000", "travel_speed": "400", "starts": "1", "pre_post_time": "3"},
    "gas_per_metre": {"flow": "15", "travel_speed": "400"},
    "cylinder_time": {"volume": "100 ft3", "flow": "45 cfh"},
    "welding_position": {"weld": "fillet", "axis": ["1", "0", "0"], "normal": ["0", "-0.707", "0.707"]},
    "welding_position_by_angles": {"weld": "butt", "slope": "22", "face_angle": "36", "travel": "up"},
    "turned_position": {
        "weld": "fillet", "axis": ["0", "1", "0"], "beam_axis": ["1", "0", "0"], "turn": "30",
        "normal": ["1", "0", "1"],
    },
    "turned_position_along": {"weld": "fillet", "face_angle": "-45", "turn": "45"},
    "best_turn": {"weld": "fillet", "face_angle": "135", "arc_from": "0", "arc_to": "270"},
    "fillet_least_leg_d11": {"thicker_mm": "16"},
    "fillet_least_length": {"throat": "6"},
    "fillet_effective_length": {"length": "200", "throat": "6"},
    "throat_with_penetration": {"throat": "5", "penetration": "2", "proven": "yes"},
    "fillet_leg_with_gap": {"leg": "8", "gap": "3"},
    "convexity_limit": {"face_width": "10", "quality_level": "C"},
    "fillet_shear_strength": {"fu": "510", "steel": "S355", "gamma_m2": "1.25"},
    "fillet_resistance": {"throat": "3", "fu": "510", "steel": "S355"},
    "fillet_required_throat": {"fu": "510", "steel": "S355", "longitudinal": "335.6"},
    "fillet_stress": {"throat": "5", "transverse": "100"},
    "fillet_long_joint_factor": {"joint_length": "1500", "throat": "5"},
    "convert": {"value": "50", "from_unit": "kJ/in", "to_unit": "kJ/mm"},
}  # fmt: skip
"""Calculation to its inputs in plain form; a graph is written as it is typed."""
IN_INCHES: Mapping[str, Mapping[str, Plain]] = {
    "averaged_thickness": {"segments": [["1.25", "1"], ["0.75", "2"]]},
    "temperature_measuring_distance": {"thickness": "0.5"},
    "d11_minimum_preheat": {"restraint": "medium", "group": "C", "thickness_in": "1"},
    "d11_prequalified_preheat": {"categories": "B", "thickness_in": "1"},
    "fillet_least_leg_d11": {"thicker_in": "5/8 in"},
    "fillet_resistance": {"throat": "0.25", "fu": "74", "steel": "S355"},
}
"""Where a code prints inches beside millimetres, or an end of a range would be turned over: an example of its own."""


def example(asked: Calculation, system: System) -> Mapping[str, Plain]:
    """The worked example of a calculation, in the reader's units to four digits.

    Example: a plate of 31.75 mm is 1.25 in to a reader in US units.
    """
    plain = EXAMPLES.get(asked.name, {})
    if system is System.SI:
        return plain
    return IN_INCHES.get(asked.name) or {name: _in_us(asked.input(name), value) for name, value in plain.items()}


def _in_us(one: Input, plain: Plain) -> Plain:
    if isinstance(plain, list):
        return [_in_us(one, part) for part in plain]
    try:
        value = Decimal(str(plain))
    except InvalidOperation:
        return plain
    return number(short(in_us(value, one.unit)[0])) if shown_unit(one, System.US) != one.unit else plain
