"""AWS D1.1/D1.1M:2020, clause 6 Part C and clause 10: the places its tables of people stand in, and who published them.

The code's own text was not owned. A figure is 'confirmed' where a public page prints it, 'partly confirmed' where it
prints a part, 'from memory' otherwise, 'doubtful' where the strict reading is taken.
"""

from codes.clauses import Clause, Mark

STANDARD = "AWS D1.1:2020"

TABLE_6_10_COPY = "public copy of D1.1:2020, Table 6.10 with its notes"
TUBULAR_COPY = "public copy of D1.1:2020, end of Table 10.12 and Table 10.13"
MAIL_IN = "weldcerttest.com, 1G to 4G plate qualification pages and FAQ (2026)"
FORUM_THICKNESS = "AWS Forum, thread on tubular thickness (January 2016)"
METRIC_4_11 = "public copy of D1.1:2010, Table 4.11 in mm"
VARIABLES_PAGE = "materialwelding.com, welder essential variables and tack welders in D1.1"
UPHILL = "AWS official interpretation D1.1-06-I13"
F_NUMBERS = "D. Barton, What is an F-Number, Welding Design & Fabrication"
SIX_MONTHS = "AWS official interpretation D1.1-06-I08b"
EFFECTIVENESS = "public copy of D1.1:2015, p. 110; AWS Forum, Period of Effectiveness (2016)"
NO_EXPIRY = "Eng-Tips, AWS welding qualification expiration years (2021)"
RETEST_THREAD = "AWS Forum, Welder Retest (October 2007), quoting D1.1:2004, 4.32"
RESPONSIBLE = "P. Sturgill, Welding variables for welder qualification, part 1, AWS (2020)"
RT_NOTES = "study notes on D1.1:2015, Part C"
THIN = "The Official Book of D1.1 Interpretations, 2nd edition (2008)"
MEMORY = "no public source; from memory of the code"


def memory(ref: str) -> Clause:
    """A place from memory. Example: str(memory("Table 6.11")) is "AWS D1.1:2020, Table 6.11"."""
    return Clause(STANDARD, ref, Mark.MEMORY, MEMORY)


def confirmed(ref: str, *sources: str) -> Clause:
    """A place whose figure a public source prints."""
    return Clause(STANDARD, ref, Mark.CONFIRMED, "; ".join(sources))


def partly(ref: str, *sources: str) -> Clause:
    """A place of which a public source prints a part; the rest is from memory."""
    return Clause(STANDARD, ref, Mark.PART, "; ".join(sources))


def doubtful(ref: str) -> Clause:
    """A place that is not confirmed and doubtful: the strict reading is taken."""
    return Clause(STANDARD, ref, Mark.DOUBT, MEMORY)


SCOPE = confirmed("1.4 (scope: 1/8 in [3 mm] and thicker)", THIN)
WHO = partly("6.16", RT_NOTES, VARIABLES_PAGE)
EMPLOYER = partly("6.2.2", RESPONSIBLE)
RETEST = confirmed("6.25", RETEST_THREAD)
TACK_RETEST = memory("6.25.2")
RADIOGRAPHY = confirmed("6.17", RT_NOTES)
TACK_TEST = partly("6.16, Table 6.12", VARIABLES_PAGE)

# What the same rule is called in the edition of 2015; its figures are the same.
NUMBERS_2015 = {
    "Table 6.10": "Table 4.10",
    "Table 6.11": "Table 4.11",
    "Table 6.12": "Table 4.12",
    "Table 6.13": "Table 4.13",
    "Table 10.12": "Table 9.13",
    "Table 10.13": "Table 9.14",
    "6.2.2": "4.2.2",
    "6.2.3": "4.2.3",
    "6.16": "4.18",
    "6.17": "4.19",
    "6.25": "4.24",
}


def numbered_2015(text: str) -> str:
    """The text with the numbers of 2015. Example: "Table 6.12, line 5" gives "Table 4.12, line 5"."""
    for new, old in NUMBERS_2015.items():
        text = text.replace(new, old)
    return text
