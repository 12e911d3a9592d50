"""ASME IX, people: the doubtful rules as switches. The strict reading is the default; every verdict names it."""

from codes.readings import Switch

GMAW_FCAW = Switch(
    "asme_ix_gmaw_fcaw",
    "Are GMAW and FCAW, which share one list of welder variables, one process?",
    {"strict": "two processes, each with its own test", "one": "one process, as they share one list"},
    "strict",
    "QW-355",
)
F5_F1 = Switch(
    "asme_ix_f5_covers_f1",
    "Does a test with F-5 cover F-1?",
    {"backed": "with backing only", "no": "F-1 needs a test of its own"},
    "backed",
    "QW-433",
)
MACHINE_FOR_AUTOMATIC = Switch(
    "asme_ix_machine_for_automatic",
    "Does a test of machine welding cover automatic welding?",
    {
        "strict": "automatic welding needs its own test",
        "wide": "a test of machine welding covers automatic welding, as no variable of it changes",
    },
    "strict",
    "QW-361.1",
)
OPERATOR_DIAMETER = Switch(
    "asme_ix_operator_diameter",
    "Do the diameters of the position table bind operators of machine welding?",
    {"strict": "the diameters bind them with the positions", "no": "diameter is not in their list of variables"},
    "strict",
    "QW-361.2, QW-461.9",
)
WELDER_SWITCHES = (GMAW_FCAW, F5_F1)
OPERATOR_SWITCHES = (GMAW_FCAW, MACHINE_FOR_AUTOMATIC, OPERATOR_DIAMETER)
