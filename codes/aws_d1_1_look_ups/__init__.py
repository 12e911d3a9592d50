"""AWS D1.1: figures for checking weld data. Each function gives value, clause, mark and derivation.

Sizes in mm; `unit_system` ("us" or "si") says which set of figures applies. Visual limits and profiles are not entered.
"""

from codes.aws_d1_1_look_ups.figure import Figure
from codes.aws_d1_1_look_ups.fillets import (
    end_loaded_length,
    leg_with_gap,
    maximum_edge_fillet,
    minimum_fillet,
    minimum_length,
)
from codes.aws_d1_1_look_ups.tacks import Rule, exposure_hours, tack_rules
from codes.aws_d1_1_look_ups.throats import fillet_throat, minimum_pjp_size, skewed_throat, z_loss

__all__ = [
    "Figure",
    "Rule",
    "end_loaded_length",
    "exposure_hours",
    "fillet_throat",
    "leg_with_gap",
    "maximum_edge_fillet",
    "minimum_fillet",
    "minimum_length",
    "minimum_pjp_size",
    "skewed_throat",
    "tack_rules",
    "z_loss",
]
