"""ASME IX procedures: the doubtful rules as switches. The strict reading stands unless the firm chooses otherwise."""

from codes.readings import Settings, Switch


def _switch(key: str, ref: str, question: str, strict: str, lenient: str) -> Switch:
    options = {"strict": strict, "lenient": lenient}
    return Switch(f"asme ix {key}", question, options, "strict", f"ASME IX, {ref}")


TRANSFER = _switch(
    "transfer mode from 2021",
    "QW-409.2",
    "Is the transfer mode an essential variable of procedures from the 2021 edition on?",
    "essential in every edition",
    "from 2021 on it is only to be stated on the WPS",
)
PREHEAT = _switch(
    "preheat of the coupon",
    "QW-406.1",
    "A record gives a range of preheat: which end is the tested preheat?",
    "the higher end",
    "the lower end",
)
LOOKED_UP = _switch(
    "P-number of a grade",
    "QW/QB-422",
    "May a P-number be used that was looked up in a row not yet verified against the code?",
    "used, with the warning that the P-number is not verified",
    "used without the warning, the firm has checked the rows",
)
TOUGH_FILLETS = _switch(
    "toughness minimum of fillets",
    "QW-403.6",
    "Does the lowest thickness for toughness also bind fillet welds under a groove test?",
    "fillet welds too",
    "groove welds only, fillets of any thickness (QW-451.4)",
)
PWHT_TEMPERATURE = _switch(
    "heat treatment temperature",
    "QW-407.2",
    "Does the temperature of the heat treatment bind where toughness is required?",
    "inside the range of temperatures recorded",
    "only condition and time bind",
)
TWO_GROUPS = _switch(
    "two groups of one P-number",
    "QW-403.5",
    "Must two records be alike in all but their groups to cover the mixed pair of them, where toughness is required?",
    "alike in every other essential and supplementary essential variable, measured heat input included",
    "unlike too, inside the bounds of both",
)
SWITCHES = (TRANSFER, PREHEAT, LOOKED_UP, TOUGH_FILLETS, PWHT_TEMPERATURE, TWO_GROUPS)


def lenient(switch: Switch, settings: Settings) -> bool:
    """True where the lenient reading is in force."""
    return switch.option(settings) == "lenient"
