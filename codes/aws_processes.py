"""Processes as AWS and ASME name them: one letter name for several ISO 4063 numbers.

Only for records judged by those codes. An ISO record never exchanges numbers by their AWS name.
"""

SMAW, GMAW, GMAW_S, FCAW, SAW, GTAW = "SMAW", "GMAW", "GMAW-S", "FCAW", "SAW", "GTAW"

# Welding without filler (142) is GTAW; where it matters the code's own filler variable refuses it.
MEMBERS: dict[str, tuple[str, ...]] = {
    SMAW: ("111",),
    GMAW: ("131", "133", "135", "138"),
    FCAW: ("114", "132", "136", "137"),
    SAW: ("121", "122", "124", "125", "126"),
    GTAW: ("141", "142", "143", "145"),
    "PAW": ("15",),
    "OFW": ("311",),
    "ESW": ("72",),
    "EGW": ("73",),
}
SELF_SHIELDED = ("114",)
_NAMES = {number: name for name, numbers in MEMBERS.items() for number in numbers}


def letter_name(process: str | None) -> str:
    """The AWS letters of an ISO 4063 number, "" where there is none. Example: "135" gives "GMAW"."""
    return _NAMES.get(process or "", "")


def given_process(process: str | None, transfer_mode: str | None = None) -> str:
    """The letters, short-circuiting apart. Example: ("135", "dip") gives "GMAW-S"; a mode not stated is not dip."""
    name = letter_name(process)
    return GMAW_S if name == GMAW and transfer_mode == "dip" else name
