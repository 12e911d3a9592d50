"""AWS D1.1, people: the doubtful rules as switches. Every verdict that rests on one names the reading in force."""

from codes.readings import Switch

FCAW = Switch(
    "aws_d1_1_fcaw",
    "Are gas-shielded (FCAW-G) and self-shielded (FCAW-S) cored wire one process for a person?",
    {
        "one": "one process in the table of personnel variables; many owners ask for two tests",
        "separate": "a test with one does not cover the other",
    },
    "one",
    "Table 6.12, line 1",
)
PJP_THICKNESS = Switch(
    "aws_d1_1_pjp_thickness",
    "Does the thickness limit of a groove test bind partial-penetration grooves?",
    {
        "free": "the limit leaves them free, as the note to the table of thickness is remembered",
        "groove": "the limit binds them as it does full penetration",
    },
    "free",
    "Table 6.11, note",
)
PROGRESSION_OTHERS = Switch(
    "aws_d1_1_progression_others",
    "Does vertical progression bind operators and tack welders, too?",
    {"strict": "it binds them as it binds welders", "welders": "it binds welders only"},
    "strict",
    "Table 6.12, line 5",
)
WELDER_AS_OPERATOR = Switch(
    "aws_d1_1_welder_as_operator",
    "May a welder run a machine with the same process inside the limits of the hand test?",
    {
        "trained": "a welder may, where training on the machine is recorded with the test (SAW, GMAW, FCAW, GTAW)",
        "never": "a test by hand never covers a machine or a robot",
    },
    "trained",
    "Table 6.12, note",
)

WELDER_SWITCHES = (FCAW, PJP_THICKNESS, WELDER_AS_OPERATOR)
OPERATOR_SWITCHES = (FCAW, PJP_THICKNESS, PROGRESSION_OTHERS)
TACK_SWITCHES = (FCAW, PROGRESSION_OTHERS)
