"""ASME IX, Part QW: how its paragraphs are cited, and the public pages that state their figures.

Only facts and figures were taken from the pages. Tick each rule against an owned copy of the edition in force.
"""

from dataclasses import dataclass

from codes.clauses import Clause, Mark

YEARS = (2017, 2019, 2021, 2023)

TABLE_UPLOAD = "upload of Table QW-451.1, 2017 edition (scribd.com); thickness page of mechanicalguruji.com"
P_PAIRS = "uploads of QW-424, editions 2023 (studylib.net) and 2015 (scribd.com)"
SMAW_LIST = "uploads of the SMAW list QW-253, 2011a (scribd.com)"
IMPACT_THREADS = (
    "engineers' forum threads on QW-403.6 and QW-202.4 (eng-tips.com); practice case IX-15-14 (mewelding.com)"
)
TOUGHNESS_ONLY = "inspectors' forum on interpretation IX-07-09 (weldinginspections.net)"
PASS_THREAD = "welding society's forum, thread on pass thickness"
CHANGES_2021 = "summary of the changes of 2021 (mewelding.com)"
PWHT_THREAD = "engineers' group thread on QW-407, 2009"
PWHT_TIME = "practice case on interpretation IX-07-06 (mewelding.com)"
UNEQUAL = "engineers' forum quoting QW-202.4 (eng-tips.com); practice case IX-13-09 (mewelding.com)"
INTERPRETATIONS = "interpretations page, highway tanks (tdgtoolbox.ca)"
FILLETS = "page on fillet welds that retain pressure (mewelding.com)"
VARIABLE_NOTES = "upload of notes on essential variables of all processes (scribd.com)"
PREHEAT_THREAD = "engineers' forum thread on preheat and interpass (eng-tips.com)"
HEAT_THREAD = "welding forum quoting interpretation IX-81-19 (onetb.com)"
SUPPLEMENTARY = "page on supplementary essential variables (mewelding.com)"
POSITION_2019 = "inspectors' forum on the removal of QW-405.2 (weldinginspections.net)"
FLUX_CORED = "upload of interpretation IX-78-16 (vdocuments.mx)"
OWN_RULE = "convention of this register"


@dataclass(frozen=True, slots=True)
class Rule:
    """A paragraph whose text is the same in every edition held; the edition is added where it is cited."""

    ref: str
    mark: Mark = Mark.MEMORY
    source: str = "from memory"

    def at(self, year: int) -> Clause:
        """The clause of an edition. Example: str(Rule("QW-404.4").at(2021)) is "ASME IX:2021, QW-404.4"."""
        return Clause(standard(year), self.ref, self.mark, self.source)

    def everywhere(self) -> tuple[Clause, ...]:
        """The clause of each edition, the newest first."""
        return tuple(self.at(year) for year in reversed(YEARS))


def standard(year: int) -> str:
    """The key of an edition. Example: standard(2021) is "ASME IX:2021"."""
    return f"ASME IX:{year}"
