"""Terms that only AWS D1.1 uses, as data: vocabulary -> token -> (ISO name, AWS name, words). AWS A3.0."""

Names = tuple[str, str, str]

# Positions of AWS are no translation of ISO 6947: what a test covers is tabled apart in each code.
AWS_POSITIONS: dict[str, Names] = {
    "F": ("", "F", "flat"),
    "H": ("", "H", "horizontal"),
    "V": ("", "V", "vertical"),
    "OH": ("", "OH", "overhead"),
    "1G": ("", "1G", "groove, flat"),
    "2G": ("", "2G", "groove, horizontal"),
    "3G": ("", "3G", "groove, vertical"),
    "4G": ("", "4G", "groove, overhead"),
    "5G": ("", "5G", "groove, pipe fixed, axis horizontal"),
    "6G": ("", "6G", "groove, pipe fixed, axis at 45 degrees"),
    "6GR": ("", "6GR", "groove, pipe fixed at 45 degrees with restriction ring"),
    "1F": ("", "1F", "fillet, flat"),
    "2F": ("", "2F", "fillet, horizontal"),
    "3F": ("", "3F", "fillet, vertical"),
    "4F": ("", "4F", "fillet, overhead"),
    "5F": ("", "5F", "fillet, pipe fixed, axis horizontal"),
}

GROOVE_TYPES: dict[str, Names] = {
    "square": ("", "square groove", "square groove"),
    "single_v": ("", "single-V groove", "single V"),
    "double_v": ("", "double-V groove", "double V"),
    "single_bevel": ("", "single-bevel groove", "single bevel"),
    "double_bevel": ("", "double-bevel groove", "double bevel"),
    "single_u": ("", "single-U groove", "single U"),
    "double_u": ("", "double-U groove", "double U"),
    "single_j": ("", "single-J groove", "single J"),
    "double_j": ("", "double-J groove", "double J"),
    "flare_bevel": ("", "flare-bevel groove", "flare bevel"),
    "flare_v": ("", "flare-V groove", "flare V"),
}

AWS_TERMS: dict[str, dict[str, Names]] = {
    "unit_system": {
        "us": ("US customary", "US customary", "inch, °F, ksi"),
        "si": ("SI", "SI", "mm, °C, MPa"),
    },
    "aws_position": AWS_POSITIONS,
    "groove_type": GROOVE_TYPES,
    "progression": {
        "uphill": ("upward", "vertical up", "uphill"),
        "downhill": ("downward", "vertical down", "downhill"),
    },
    "power_output": {
        "cv": ("constant voltage", "CV", "constant voltage"),
        "cc": ("constant current", "CC", "constant current"),
    },
    "backing_material": {
        "none": ("none", "", "no backing"),
        "steel": ("steel", "", "steel backing"),
        "ceramic": ("ceramic", "", "ceramic backing"),
        "copper": ("copper", "", "copper backing"),
        "flux": ("flux", "", "flux backing"),
        "other": ("other", "", "other backing"),
    },
    "weld_pass": {
        "root": ("root", "root pass", "root pass"),
        "fill": ("fill", "fill pass", "fill pass"),
        "cap": ("cap", "cap pass", "cap pass"),
    },
    "weave": {
        "stringer": ("stringer", "stringer bead", "stringer bead"),
        "weave": ("weave", "weave bead", "weave bead"),
    },
    "pipe_test": {
        "job_size": ("job size", "job-size pipe", "pipe of the size of the work"),
        "standard": ("standard size", "standard test pipe", "standard test pipe"),
    },
    "weld_axis": {
        "straight": ("straight", "", "straight weld, along a pipe or on a box"),
        "girth": ("girth", "", "girth weld, around a pipe"),
    },
    "heat_method": {
        "conventional": ("volts times amperes", "", "from volts, amperes and travel speed"),
        "instantaneous": ("instantaneous energy or power", "", "from the source's instantaneous energy or power"),
    },
}

AWS_ALIASES: dict[str, dict[str, str]] = {
    "unit_system": {
        "us customary": "us",
        "us customary units": "us",
        "si units": "si",
        "imperial": "us",
        "inch": "us",
        "metric": "si",
    },
    "aws_position": {"O": "OH", "6G-R": "6GR"},
    "progression": {"up": "uphill", "down": "downhill", "upward": "uphill", "downward": "downhill"},
    "groove_type": {"square butt": "square", "V": "single_v", "bevel": "single_bevel", "X": "double_v"},
}
