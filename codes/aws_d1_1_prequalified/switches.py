"""AWS D1.1, prequalified procedures: rules whose reading is doubtful. The strict one is the default."""

from codes.aws_d1_1_2020.switches import MIXED_UNITS
from codes.readings import Settings, Switch


def _switch(key: str, clause: str, question: str, strict: str, lenient: str) -> Switch:
    options = {"strict": strict, "lenient": lenient}
    return Switch(f"aws_d1_1_prequalified_{key}", question, options, "strict", f"AWS D1.1:2020, {clause}")


VOLTAGE = _switch(
    "voltage", "Table 5.2", "How far may the voltage leave the written one?", "7 % (2008 and before)", "15 %"
)
SAW_SPEED = _switch(
    "saw_speed",
    "Table 5.2",
    "How far may the travel speed of submerged arc welding leave the written one?",
    "15 % (2008 and before)",
    "25 %",
)
GAS_FLOW = _switch(
    "gas_flow", "Table 5.2", "How far may the gas flow leave the written one?", "+25 % or -20 %", "25 % either way"
)
GAS = _switch(
    "gas",
    "Table 5.7",
    "Which shielding gases may a prequalified procedure use?",
    "the gas of the filler's classification, or one on the filler maker's certificate",
    "the remembered table of mixtures too",
)
A913 = _switch(
    "a913",
    "Table 5.8",
    "Preheat category of A913 Gr 60 and 65 with low-hydrogen filler above 8 ml/100 g?",
    "category C (older lists)",
    "category B (public explainer of 2025)",
)
PJP_THICKNESS = _switch(
    "pjp_thickness",
    "minimum prequalified PJP size",
    "Which part sets the smallest partial-penetration weld?",
    "the thicker part",
    "the thinner part for low-hydrogen processes",
)

SWITCHES = (VOLTAGE, SAW_SPEED, GAS_FLOW, GAS, A913, PJP_THICKNESS, MIXED_UNITS)


def lenient(switch: Switch, settings: Settings) -> bool:
    """True where the lenient reading is in force."""
    return switch.option(settings) == "lenient"
