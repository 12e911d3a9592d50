"""ISO 9606-1:2012: the doubtful rules as switches. The strict reading is the default; every verdict names it."""

from codes.readings import Switch

MODE_136 = Switch(
    "iso_9606_1_mode_136",
    "Does the transfer mode also bind flux-cored and inert-gas cored wire (132, 133, 136, 137)?",
    {
        "strict": "the mode binds every gas-shielded wire process",
        "named": "the mode binds 131, 135 and 138 only, as the clause names them",
    },
    "strict",
    "5.2",
)
MIG_MAG = Switch(
    "iso_9606_1_mig_mag",
    "Do solid wire under inert gas (131) and under active gas (135) cover each other?",
    {"strict": "131 covers 131 only, 135 does not cover 131", "wide": "131 and 135 cover each other"},
    "strict",
    "5.2",
)
FILLET_PH_PC = Switch(
    "iso_9606_1_fillet_ph_pc",
    "Does a fillet test on pipe in PH cover fillet welds in PC?",
    {"strict": "PC is left out of the PH row", "table": "PC stands in the PH row"},
    "strict",
    "5.8, Table 10",
)
SUPPLEMENTARY = Switch(
    "iso_9606_1_supplementary_fillet",
    "Which fillet positions does the supplementary fillet test buy?",
    {
        "strict": "PA and PB only",
        "wide": "the fillet positions that the position of the butt test would cover",
    },
    "strict",
    "5.4 e",
)
PLATE_BRANCH = Switch(
    "iso_9606_1_plate_branch",
    "Does a butt test on plate cover branch connections on pipe?",
    {
        "strict": "only a test on pipe covers it",
        "wide": "a test on plate covers it, on the pipe diameters that plate covers",
    },
    "strict",
    "5.4 c",
)

SWITCHES = (MODE_136, MIG_MAG, FILLET_PH_PC, SUPPLEMENTARY, PLATE_BRANCH)
