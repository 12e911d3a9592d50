"""ISO 9606-1:2012: the places its tables stand in, how sure the register is of each, and who published the figure.

The standard's own text was not seen. A figure is 'confirmed' where a public sheet prints it, 'partly confirmed' where
one row or one instance of it is printed, 'from memory' otherwise, 'doubtful' where the strict reading is taken.
"""

from collections.abc import Iterable

from codes.clauses import Clause, Mark

STANDARD = "ISO 9606-1:2012"

HANDOUT = "teaching hand-out of designation examples to DIN EN ISO 9606-1:2013-12"
OVERVIEW = "two-page overview sheet of the welder's certificate to DIN EN ISO 9606-1:2013-12"
DEKRA = "DEKRA Sweden, page on welder qualification testing to SS-EN ISO 9606-1"
KIWA = "Kiwa Norway, page on the certification of welders to NS-EN ISO 9606-1"
ARVISA = "Arvisa Italy, training page on UNI EN ISO 9606-1"
IIW_INDIA = "Indian Institute of Welding, notes of a refresher course on WPS, WPQR and welders"
METALL_ZERT = "Metall-Zert Germany, step pages on EN ISO 9606"
WELD_AUSTRALIA = "Weld Australia, hotline note of June 2023"
DVS = "DVS, press notice on DIN EN ISO 9606-1 (2013)"
CONTENTS = "table of contents of AS/NZS ISO 9606.1:2017"
SCOPE_PAGE = "scope of EN ISO 9606-1:2013 in the catalogues of SNV and SIST"
EN_1090_EXTRACT = "extract of EN 1090-2:2008, 7.4.2"
FRENCH_PAGE = "formation-soudure.com, page on welder qualification"
MEMORY = "no public source; from memory of the edition of 2012"


def clause(ref: str, mark: Mark = Mark.MEMORY, source: str = MEMORY) -> Clause:
    """A place in this edition. Example: str(clause("5.7, Table 6")) is "ISO 9606-1:2012, 5.7, Table 6"."""
    return Clause(STANDARD, ref, mark, source)


def confirmed(ref: str, *sources: str) -> Clause:
    """A place whose figure a public source prints."""
    return clause(ref, Mark.CONFIRMED, "; ".join(sources))


def partly(ref: str, *sources: str) -> Clause:
    """A place of which a public source prints one row or one instance; the rest is from memory."""
    return clause(ref, Mark.PART, "; ".join(sources))


def doubtful(ref: str, source: str = MEMORY) -> Clause:
    """A place that is unclear or not confirmed: the strict reading is taken."""
    return clause(ref, Mark.DOUBT, source)


# Least certain first: what rests on several places is as certain as the weakest of them.
CERTAINTY = (Mark.DOUBT, Mark.OWN, Mark.MEMORY, Mark.PART, Mark.CONFIRMED)


def weakest(clauses: Iterable[Clause]) -> Clause:
    """The least certain of some places, the first of equals. Raises ValueError where there is none."""
    return min(clauses, key=lambda where: CERTAINTY.index(where.mark))


SCOPE = confirmed("1", SCOPE_PAGE)
