"""The ranges within which the calculations answer, for the page. The calculations themselves refuse outside them.

A test asks each calculation at both ends and one step outside, so that these figures cannot drift from the rules.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.values import Interval


@dataclass(frozen=True, slots=True)
class Range:
    """An input and the figures it may have; an open end is not part of the range."""

    field: str
    lo: str | None
    hi: str | None
    unit: str = ""
    lo_open: bool = False
    hi_open: bool = False

    @property
    def interval(self) -> Interval:
        """The range as a value of the codes."""
        lo, hi = (Decimal(end) if end is not None else None for end in (self.lo, self.hi))
        return Interval(lo, hi, self.unit, self.lo_open, self.hi_open)


_K = Range("k", "0.3", "1.0")
_T0 = Range("preheat", "-20", "500", "°C", hi_open=True)
_F = (Range("f2", "0", "1", lo_open=True), Range("f3", "0", "1", lo_open=True))
_ANGLE = Range("angle", "60", "120", "°")
_PCM = Range("pcm", "0", "0.38", "%", lo_open=True, hi_open=True)
RANGES: Mapping[str, tuple[Range, ...]] = {
    "heat_input": (_K,),
    "heat_input_waveform": (_K,),
    "heat_input_from_arc_energy": (_K,),
    "heat_input_window": (_K,),
    "travel_speed_window": (_K,),
    "preheat_method_b": (
        Range("cet", "0.2", "0.5", "%"),
        Range("thickness", "10", "90", "mm"),
        Range("hydrogen", "1", "20", "ml/100 g"),
        Range("heat_input", "0.5", "4.0", "kJ/mm"),
        Range("yield_mpa", None, "1000", "MPa"),
    ),
    "preheat_method_a_table": (Range("carbon_equivalent", "0.30", "0.49", "%"),),
    "preheat_method_a": (Range("carbon_equivalent", "0.30", "0.70", "%"),),
    "d11_susceptibility_group": (_PCM,),
    "d11_prequalified_preheat": (Range("thickness_mm", "3", None, "mm"), Range("thickness_in", "0.125", None, "in")),
    "cooling_time": (_T0, *_F),
    "cooling_time_2d": (_T0, _F[0]),
    "cooling_time_3d": (_T0, _F[1]),
    "transition_thickness": (_T0, *_F),
    "heat_input_for_cooling_time": (_T0, *_F),
    "heat_input_for_cooling_window": (_T0,),
    "interpass_for_cooling_time": _F,
    "fillet_area": (Range("angle", "30", "150", "°"), Range("convexity_factor", "1", None)),
    "fillet_throat": (_ANGLE,),
    "fillet_leg": (_ANGLE,),
    "fillet_resistance": (Range("throat", "3", None, "mm"), Range("gamma_m2", "1", None)),
    "fillet_shear_strength": (Range("gamma_m2", "1", None),),
    "shielding_gas": (Range("starts", "1", None), Range("waste_factor", "1.0", "2.0")),
    "arc_time": (Range("operating_factor", "0", "1", lo_open=True),),
    "filler_to_buy": (Range("efficiency", "0", "100", "%", lo_open=True),),
    "welding_position_by_angles": (Range("slope", "0", "90", "°"), Range("face_angle", "0", "180", "°")),
    "turned_position_along": (Range("face_angle", "-180", "180", "°"),),
    "best_turn": (Range("face_angle", "-180", "180", "°"),),
}
"""Calculation to the ranges of its inputs. Not here: conditions between inputs, which the refusal explains."""
