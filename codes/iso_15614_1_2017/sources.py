"""ISO 15614-1:2017 (with Amd 1:2019): how its clauses are cited, and the public pages that state their figures.

Only facts and figures were taken from the pages. Tick each rule against an owned copy of the standard.
"""

from codes.clauses import Clause, Mark

STANDARD = "ISO 15614-1:2017"

TEXT = "machine-extracted public copy of BS EN ISO 15614-1:2017+A1:2019, letters of its tables partly lost"
GROUPS_FAQ = "public FAQ on steel groups of a pressure-equipment site (ped-online.com)"
FRENCH_PAGE = "summary page of ranges, French welding trade site (soudeurs.com)"
LEVELS_FAQ = "technical FAQ of a welding institute on the 2017 edition (TWI), catalogue scope text (iTeh)"
POSITION_FORUM = "inspectors' forum, thread on positions (weldinginspections.net)"
TEMPERATURE_FORUM = "inspectors' forum, thread on 8.4.8 and 8.4.9 (weldinginspections.net)"
HEAT_FORUM = "welding forum, thread on heat input, impact and hardness (weldinguide.com)"
MAKE_ARTICLE = "German trade magazine metallbau, on the 2017 edition, part 2"
HARDNESS_SLIDES = "training slides, European welding standards (2004 edition)"
OWN_RULE = "convention of this register"


def clause(ref: str, mark: Mark = Mark.MEMORY, source: str = "") -> Clause:
    """A clause of this edition. Example: str(clause("8.4.2")) is "ISO 15614-1:2017, 8.4.2"."""
    return Clause(STANDARD, ref, mark, source)
