"""ASME BPVC Section IX, edition 2021: the places the rules of people stand in, and who published the figures.

The code's own text was not owned. A figure is 'confirmed' where a public page prints it, 'partly confirmed' where it
prints a part, 'from memory' otherwise, 'doubtful' where the strict reading is taken.
"""

from codes.clauses import Clause, Mark

STANDARD = "ASME IX:2021"

THICKNESS_PAGE = "mewelding.com, Weld Thickness For Welder Qualification"
CHANGES_2021 = "mewelding.com, Summary of changes to Section IX: 2021 edition"
RANGES_SLIDES = "public slides on qualification ranges of welders"
P_NUMBERS_2023 = "public sheet on the range qualification of WPS and welder, 2023 (QW-423, QW-424)"
SMAW_SLIDES = "public slides on QW-353"
ARTICLE_III = "weldfabworld.com, Article III training module (2025)"
INTERPRETATIONS = "interpretations IX-77-02 and IX-77-04"
F_NUMBERS = "weldingdesign.com, questions and answers on F-numbers"
OLDER_SHEET = "public sheet of welding variables for welders (older edition)"
DIAMETER_FAQ = "TWI, range of qualification for pipe diameters in ASME IX"
FILLETS = "mewelding.com, welder qualification through fillet weld test coupon"
POSITIONS = "public slides on test material, position and acceptance"
PROGRESSION = "Eng-Tips, vertical progression"
SHORT_ARC = "underfill.blogspot.com, Welder performance qualification, part 5"
RENEWAL = "mewelding.com, renewal and validity; AWS Forum, topic 3710"
CHANGES_SLIDES = "public slides on the key changes of Section IX 2021"
OPERATORS = "onetb.com forum, quoting QW-361.2"
MEMORY = "no public source; from memory of the code"


def memory(ref: str) -> Clause:
    """A place from memory. Example: str(memory("QW-350")) is "ASME IX:2021, QW-350"."""
    return Clause(STANDARD, ref, Mark.MEMORY, MEMORY)


def confirmed(ref: str, *sources: str) -> Clause:
    """A place whose figure a public source prints."""
    return Clause(STANDARD, ref, Mark.CONFIRMED, "; ".join(sources))


def partly(ref: str, *sources: str) -> Clause:
    """A place of which a public source prints a part; the rest is from memory."""
    return Clause(STANDARD, ref, Mark.PART, "; ".join(sources))


def doubtful(ref: str, *sources: str) -> Clause:
    """A place that is not confirmed and doubtful: the strict reading is taken."""
    return Clause(STANDARD, ref, Mark.DOUBT, "; ".join(sources) or MEMORY)


KIND = partly("QG-109, QW-350, QW-360", ARTICLE_III)
PROCESS = memory("QW-350 (change of process)")
WELD_TYPE = memory("QW-303")
BACKING = partly("QW-402.4", SMAW_SLIDES)
BACKING_SAW = doubtful("QW-402.4, QW-354")
RETEST = memory("QW-321")
ORGANISATION = memory("QG-106, QW-322")
SPECIAL = memory("QW-193, QW-381, QW-382")
"""Tube-to-tubesheet, overlay and hardfacing need special qualification; nothing here covers them."""
