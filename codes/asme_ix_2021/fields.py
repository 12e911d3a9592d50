"""ASME IX, QW-200.2 and QW-253 to QW-256: what a record (PQR) states, and what its limits ask of a joint."""

from codes.editions import Field

TOUGH = "toughness tested"

FIELDS = (
    Field("unit_system", "always", clause="Introduction", help="the figures of US and SI units are two sets"),
    Field("piece", "several processes in one coupon", clause="QW-200.2"),
    Field("process", "always", clause="QW-250", help="one entry per process and F-number"),
    Field("place", "several processes in one coupon", many=True, clause="QW-200.4"),
    Field("mechanisation", "always", clause="QW-410.25"),
    Field("weld_type", "always", clause="QW-202.2"),
    Field("joint_type", clause="QW-402.1"),
    Field("product", clause="QW-451"),
    Field(
        "steels",
        "always",
        clause="QW-403.11",
        help="both sides: P-number and group such as P-1 Gr 2 as the group, or specification and grade",
    ),
    Field("parent_t", "groove", many=True, clause="QW-403.8", label="Coupon thickness T"),
    Field("deposit_t", "groove", clause="QW-404.30", help="of this process and F-number, without reinforcement"),
    Field("max_run_t", "coupon over 13 mm (1/2 in), not GTAW", clause="QW-403.9"),
    Field("bend_direction", "bends along the weld", clause="QW-451.2"),
    Field("weld_detail", clause="QW-402.4"),
    Field("gouging", clause="QW-410.6"),
    Field("groove_type", clause="QW-402.1"),
    Field("root_opening", clause="QW-402.10"),
    Field("position", "always", many=True, clause="QW-405.1", help="all positions welded"),
    Field("progression", "vertical", many=True, clause="QW-405.3"),
    Field("f_number", "filler", clause="QW-404.4"),
    Field(
        "a_number", "ferrous deposit", clause="QW-404.5", help="with its evidence: E7018 and ER70S-6 are usually A-1"
    ),
    Field("filler_designation", "filler", many=True, clause="QW-404.12", help="AWS classification, such as E7018-1"),
    Field("filler_make", "class G, unclassified or outside the tables", many=True, clause="QW-404.12"),
    Field("product_form", "a process whose number does not say it", clause="QW-404.23"),
    Field("filler_diameter", "filler", many=True, clause="QW-404.6, QW-404.7"),
    Field("flux_designation", "SAW", clause="QW-404.9", help="with the wire: F7A2-EM12K"),
    Field("flux_make", "SAW: unclassified, alloy flux or A-8", clause="QW-404.9"),
    Field("flux_type", "SAW", clause="QW-404.34"),
    Field("flux_recrushed", "SAW", clause="QW-404.36"),
    Field("extra_filler", "SAW, GMAW, FCAW", clause="QW-404.24"),
    Field("extra_filler_ratio", "supplemental filler", clause="QW-404.24"),
    Field("preheat", "always", clause="QW-406.1"),
    Field("interpass", TOUGH, clause="QW-406.3"),
    Field("post_heat", clause="QW-406.2"),
    Field("pwht", "always", clause="QW-407.1"),
    Field("pwht_condition", "heat treated", clause="QW-407.1"),
    Field("pwht_temperature", "heat treated", clause="QW-407.2"),
    Field("pwht_minutes", "heat treated, toughness tested", clause="QW-407.2"),
    Field("gas", "GMAW, FCAW, GTAW", clause="QW-408.2"),
    Field("gas_co2", "mixtures", clause="QW-408.2"),
    Field("gas_o2", "mixtures", clause="QW-408.2"),
    Field("gas_he", "mixtures", clause="QW-408.2"),
    Field("gas_h2", "mixtures", clause="QW-408.2"),
    Field("gas_n2", "mixtures", clause="QW-408.2"),
    Field("gas_flow", clause="QW-408.3"),
    Field("backing_gas", clause="QW-408.5, QW-408.9"),
    Field("transfer_mode", "GMAW, FCAW", many=True, clause="QW-409.2"),
    Field("current_type", "always", many=True, clause="QW-409.4"),
    Field("pulsed_current", clause="QW-409.3"),
    Field("current", clause="QW-409.8"),
    Field("voltage", clause="QW-409.8"),
    Field("travel_speed", clause="QW-409.1"),
    Field("wire_feed", clause="QW-409.8"),
    Field("impact_tested", "always", clause="QW-251.2"),
    Field("impact_temperature", TOUGH, clause="construction code"),
    Field("toughness_only", "second coupon without tension and bends", clause="QW-403.6"),
    Field("heat_input", TOUGH, many=True, clause="QW-409.1", help="the highest set: V × A × 60 / travel, without k"),
    Field("heat_measure", TOUGH, clause="QW-409.1"),
    Field("heat_method", "toughness tested, not SMAW", clause="QW-409.1"),
    Field("waveform_controlled", "toughness tested, not SMAW", clause="QW-409.1"),
    Field("run_type", TOUGH, many=True, clause="QW-410.9", help="one pass per side is a single run"),
    Field("wire_system", "toughness tested, machine or automatic", clause="QW-410.10"),
    Field("weave", clause="QW-410.1"),
)

RECORDED_ONLY = ("joint_type", "product", "travel_speed")
"""Stated on the record, without a limit of their own here."""

DEMAND = (
    *dict.fromkeys(
        [
            *(field.name for field in FIELDS if field.name not in (
                "unit_system", "piece", "impact_tested", "toughness_only", "bend_direction", *RECORDED_ONLY,
            )),
            "impact_required", "pressure_retaining", "filler_added",
        ]
    ),
)  # fmt: skip
"""What the limits look at, their conditions included."""
