"""ISO 15614-1:2017: the doubtful rules as switches. The strict reading stands unless the firm chooses otherwise;
two readings (fillet thickness, T-joint from a butt test) are lenient by everyday practice and say so."""

from codes.readings import Settings, Switch
from codes.steels import YIELD_READING


def _switch(key: str, ref: str, question: str, strict: str, lenient: str, default: str = "strict") -> Switch:
    options = {"strict": strict, "lenient": lenient}
    return Switch(f"15614-1 {key}", question, options, default, f"ISO 15614-1:2017, {ref}")


LOWER_GROUP_YIELD = _switch(
    "yield of lower groups",
    "8.3.1, Table 5",
    "Is the yield strength of a lower group reached through Table 5 capped at that of the test steel?",
    "capped at the specified yield of the test steel",
    "no cap on a lower group",
)
FILLET_THICKNESS = _switch(
    "fillet thickness",
    "8.3.2, Table 8",
    "Which range has a fillet test of more than 3 and less than 30 mm?",
    "0.5 t (at least 3 mm) to 1.2 t, as in the 2004 edition",
    "3 mm to 2 t; ask the examiner where the part lies outside 0.5 t (at least 3 mm) to 1.2 t",
    default="lenient",
)
TEMPERATURES = _switch(
    "preheat and interpass",
    "8.4.8 and 8.4.9",
    "Does level 2 allow 50 °C off the tested preheat and interpass temperatures?",
    "no tolerance at level 2",
    "50 °C (preheat only while the cracking check holds; interpass not for groups 8, 10, 41 to 48)",
)
CO2_CONTENT = _switch(
    "CO2 content",
    "8.5.2.1",
    "How far may the CO2 content of the shielding gas move?",
    "10 % of the tested content",
    "20 % of the tested content",
)
TEE_FROM_BUTT = _switch(
    "T-joint from butt test",
    "8.4.3",
    "Does the test of a butt joint cover a butt weld in a T-joint at level 2?",
    "not covered",
    "covered; confirm with the examiner, the T-joint was tested as a butt joint",
    default="lenient",
)
HEAT_LEVEL_1 = _switch(
    "heat input at level 1",
    "8.4.7",
    "What is the highest heat input at level 1 where impact properties are required?",
    "the tested value",
    "1.25 x the tested value",
)
SINGLE_RUN_ABOVE_40 = _switch(
    "single run above 40 mm",
    "8.3.2, Table 7",
    "What does a single-run test of more than 40 and up to 100 mm cover?",
    "nothing as a single run",
    "0.5 t to 1.1 t",
)
THICKER_PART = _switch(
    "thicker part",
    "8.3.2.1",
    "Must the thicker part of an unequal butt joint lie in the range too?",
    "both parts in the range",
    "no upper limit for the thicker part where the test was 30 mm or more",
)
IMPACT_CAP_OF_FILLETS = _switch(
    "impact cap of fillet tests",
    "8.3.2, Table 7 note a",
    "No impact tests on the record: does the cap of 12 mm, a note to the table of butt welds, bind fillet tests too?",
    "fillet tests too",
    "tests of butt welds only; a fillet test serves any thickness of its own table",
)
RUN_TYPE = _switch(
    "run type",
    "8.4.3",
    "May level 2 change between single run and multi run where neither impact nor hardness is required?",
    "no change",
    "free, the single-run columns of thickness and throat then decide",
)
GOUGING_KIND = _switch(
    "kind of gouging",
    "8.4.3",
    "Does a test gouged one way cover the other way?",
    "same kind of gouging only",
    "any kind of gouging",
)
MECHANISED_DEGREES = _switch(
    "fully mechanised and automatic",
    "8.4.1",
    "Are fully mechanised and automatic welding two degrees of mechanisation?",
    "two degrees, each with its own test",
    "one degree",
)
ONE_REQUIREMENT = _switch(
    "position with one requirement",
    "8.4.2",
    "Only one position tested and only impact or only hardness required: which positions?",
    "the tested position only",
    "every position but vertical down while the heat input stays in its bounds",
)
BACKING_LEVEL_1 = _switch(
    "backing at level 1",
    "8.4.3",
    "May backing be left out at level 1?",
    "backing may not be left out",
    "backing is not an essential variable at level 1",
)
FLUX_LEVEL_1 = _switch(
    "flux make at level 1",
    "8.5.1",
    "Is the make of the flux fixed at level 1?",
    "make and designation as tested",
    "make free",
)
LEVEL_1_SERVICE = _switch(
    "level 2 record for level 1",
    "clause 1 and 8",
    "A level-2 record where the contract asks for level 1: which ranges?",
    "the level-2 ranges",
    "the level-1 ranges too",
)

SWITCHES = (
    LOWER_GROUP_YIELD,
    YIELD_READING,
    FILLET_THICKNESS,
    TEMPERATURES,
    CO2_CONTENT,
    TEE_FROM_BUTT,
    HEAT_LEVEL_1,
    SINGLE_RUN_ABOVE_40,
    THICKER_PART,
    IMPACT_CAP_OF_FILLETS,
    RUN_TYPE,
    GOUGING_KIND,
    MECHANISED_DEGREES,
    ONE_REQUIREMENT,
    BACKING_LEVEL_1,
    FLUX_LEVEL_1,
    LEVEL_1_SERVICE,
)


def lenient(switch: Switch, settings: Settings) -> bool:
    """True where the lenient reading is in force."""
    return switch.option(settings) == "lenient"
