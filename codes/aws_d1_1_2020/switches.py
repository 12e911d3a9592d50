"""AWS D1.1, qualification by test: rules whose reading is doubtful. The strict one is the default."""

from codes.readings import Settings, Switch


def _switch(key: str, clause: str, question: str, strict: str, lenient: str) -> Switch:
    options = {"strict": strict, "lenient": lenient}
    return Switch(f"aws_d1_1_{key}", question, options, "strict", f"AWS D1.1:2020, {clause}")


MIXED_UNITS = _switch(
    "mixed_units",
    "1.4",
    "A demand in one set of figures against a record in the other?",
    "not compared: the two sets are no conversions of each other",
    "compared in the figures of the record, sizes converted exactly",
)
PASS_VALUES = _switch(
    "pass_values",
    "6.8, Table 6.5",
    "Several passes recorded with one filler diameter: which value do the tolerances start from?",
    "the average per diameter and kind of pass",
    "the values of each pass, a range for each",
)
FILLER_CLASS = _switch(
    "filler_class",
    "6.8, Table 6.5, 2015 lines 1 and 3",
    "May the filler's class change where the copy of the table shows a blank?",
    "another class of the same strength needs a test for every process",
    "SMAW and FCAW: any class of no higher strength",
)
SAW_SPEED = _switch(
    "saw_speed",
    "6.8, Table 6.5, 2015 line 18",
    "Travel speed of submerged arc welding?",
    "15 % either way (older editions)",
    "25 % either way",
)
GROUP_PAIR = _switch(
    "group_pair",
    "6.8, Table 6.8",
    "A test of a Group I steel to a Group II steel: what may the procedure join?",
    "Group I to Group I, and the tested pair",
    "Group I to Group I, and any Group I to Group II",
)
GRADE_GROUPS = _switch(
    "grade_across_groups",
    "6.8, Table 6.8",
    "A grade whose group changes with its thickness (A36, A709-36, A710): is it the tested steel in the other group?",
    "its group at the thickness of the joint decides",
    "the tested grade stays the tested steel at any thickness covered",
)

SWITCHES = (MIXED_UNITS, PASS_VALUES, FILLER_CLASS, SAW_SPEED, GROUP_PAIR, GRADE_GROUPS)


def lenient(switch: Switch, settings: Settings) -> bool:
    """True where the lenient reading is in force."""
    return switch.option(settings) == "lenient"
