"""The standard that a designation line opens with, and the welders' standards that this package does not hold."""

import re
from dataclasses import dataclass

# National prefixes stand in front with blanks or dashes: "PN-EN ISO 9606-1", "NEN-EN-ISO 9606-1", "DIN EN 287-1".
_PREFIX = r"(?P<prefix>(?:[A-Z]{2,5}(?:/[A-Z]{2,5})?[\s\-]+)*?(?:EN[\s\-]*)?(?:ISO[\s\-]*)?)"
_LINE = re.compile(
    rf"^\s*{_PREFIX}(?P<number>9606|287)[\-.](?P<part>\d)(?::(?P<year>\d{{4}})(?:-\d{{2}})?)?[\s:,;]+(?P<rest>\S.*)$",
    re.IGNORECASE,
)
_STYLE_1992 = re.compile(r"(?:^|\s)(?:W\d{2}|wm|a\d+(?:[.,]\d+)?)(?=\s|$)", re.IGNORECASE)
HELD_YEARS = ("2012", "2013", "2017")


@dataclass(frozen=True, slots=True)
class NamedStandard:
    """What a line opens with: number, part, year where printed, and the rest of the line."""

    number: str
    part: str
    year: str
    rest: str

    @property
    def title(self) -> str:
        """The standard without its national prefix. Example: "ISO 9606-2"."""
        name = f"{'ISO' if self.number == '9606' else 'EN'} {self.number}-{self.part}"
        return f"{name}:{self.year}" if self.year else name

    @property
    def held(self) -> bool:
        """True for ISO 9606-1 of 2012 under any of its national and European years."""
        return (self.number, self.part) == ("9606", "1") and (not self.year or self.year in HELD_YEARS)

    @property
    def refusal(self) -> str:
        """Why the line is not judged by ISO 9606-1:2012."""
        if self.number == "287" and _STYLE_1992.search(self.rest):
            what = "here written as its edition of 1992 did (W01, wm, throat a), whose ranges no later edition kept"
        elif self.number == "287":
            what = "a withdrawn standard with ranges of its own (parent groups, other diameters)"
        elif self.part != "1":
            what = "the standard for another material"
        else:
            what = "another edition"
        return f"{self.title} is {what}; the register holds ISO 9606-1:2012 and does not judge this one"


def named_standard(line: str) -> NamedStandard | None:
    """The standard at the start of a designation line, None where the line opens with none of them."""
    found = _LINE.match(line)
    if found is None:
        return None
    return NamedStandard(found["number"], found["part"], found["year"] or "", found["rest"])
