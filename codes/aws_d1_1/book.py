"""AWS D1.1: the editions, where each subject stands in them, and the public pages that state the figures."""

from dataclasses import dataclass

from codes.clauses import Clause, Mark

D11_2020 = "AWS D1.1:2020"
D11_2015 = "AWS D1.1:2015"

# Subject -> (2020, 2015). A number that no page showed is left out: the subject is then named in words.
PLACES: dict[str, tuple[str, str]] = {
    "scope": ("1.1", "1.1"),
    "units": ("1.4", "1.5"),
    "processes": ("5.5", "3.2"),
    "process limits": ("5.8.2, Table 5.1", "3.7, Table 3.6"),
    "progression": ("5.8", "3.7.1"),
    "width and depth": ("5.8.2.1", "3.7.2"),
    "written variables": ("Table 5.2", "Table 3.7"),
    "prequalified metals": ("5.3, Table 5.3", "3.1, Table 3.1"),
    "matching filler": ("5.6, Table 5.4", "Table 3.2"),
    "gas of prequalified": ("5.6, Table 5.7", "3.7.3"),
    "preheat": ("5.7, Table 5.8", "3.5, Table 3.3"),
    "preheat of two steels": ("5.7.1", "3.5.1"),
    "joint details": ("5.4, Figs 5.1 and 5.2", "3.9 to 3.13, Figs 3.3 and 3.2"),
    "PJP size": ("clause 5, minimum prequalified PJP size", "Table 3.5"),
    "contractor": ("6.2.1", "4.2.1.1"),
    "positions": ("Table 6.1", "Table 4.1"),
    "tested positions": ("6.8, Table 6.5, 2015 line 27; Table 6.1", "4.8, Table 4.5, line 27; Table 4.1"),
    "CJP": ("Table 6.2", "Table 4.2"),
    "CJP pipe": ("clause 10, CJP on tubulars", "Table 9.10"),
    "PJP": ("Table 6.3", "Table 4.3"),
    "fillet": ("Table 6.4", "Table 4.4"),
    "variables": ("6.8, Table 6.5", "4.8, Table 4.5"),
    "CVN": ("supplementary variables for CVN", "Table 4.6"),
    "base metals": ("Table 6.8", "Table 4.8"),
    "heat input": ("6.8.5", "heat input"),
    "fillet size": ("7.13, Table 7.7", "5.13, Table 5.7"),
    "edge fillet": ("4.4.2.9", "2.4.2.9"),
    "fillet length": ("4.4.2", "2.4.2"),
    "throat": ("4.4", "2.4"),
    "assembly": ("7.21", "5.21"),
    "tacks": ("7.17", "5.17"),
    "low hydrogen": ("7.3.2", "5.3.2"),
    "power source": ("5.5", "3.2.4"),
    "heat treatment": ("clause 5, post-weld heat treatment", "clause 3, post-weld heat treatment"),
}


@dataclass(frozen=True, slots=True)
class Book:
    """One edition of D1.1 as its rules are cited."""

    standard: str

    def clause(self, subject: str, mark: Mark = Mark.MEMORY, source: str = "from memory", line: str = "") -> Clause:
        """A place in this edition. Raises KeyError for a subject without a place.

        Example: Book(D11_2015).clause("CJP").ref is "Table 4.2".
        """
        new, old = PLACES[subject]
        ref = new if self.standard == D11_2020 else old
        return Clause(self.standard, f"{ref}, {line}" if line else ref, mark, source)

    def line(self, number: str, mark: Mark = Mark.MEMORY, source: str = "from memory") -> Clause:
        """A line of the table of essential variables; its numbers are those of 2015 and may have moved in 2020."""
        several = "lines" if " to " in number or " and " in number else "line"
        of = several if self.standard == D11_2015 else f"2015 {several}"
        return self.clause("variables", mark, source, f"{of} {number}")


BOOK_2020 = Book(D11_2020)
BOOK_2015 = Book(D11_2015)
BOOKS = (BOOK_2020, BOOK_2015)


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule that both editions have, each in its own place, with how sure the register is of it and on what source.

    `line`: of a table of variables, by its number of 2015.
    """

    subject: str
    mark: Mark
    source: str
    line: str = ""

    def of(self, book: Book) -> Clause:
        """The place in an edition. Example: rule("CJP").of(BOOK_2015) is Table 4.2 of 2015."""
        if self.subject == "variables":
            return book.line(self.line, self.mark, self.source)
        return book.clause(self.subject, self.mark, self.source, f"2015 line {self.line}" if self.line else "")

    def everywhere(self) -> tuple[Clause, ...]:
        """The place in each edition, the newest first."""
        return tuple(map(self.of, BOOKS))


def rule(subject: str, mark: Mark = Mark.MEMORY, source: str = "from memory") -> Rule:
    """A rule named by its subject, one of PLACES."""
    return Rule(subject, mark, source)


def line(number: str, mark: Mark = Mark.MEMORY, source: str = "from memory") -> Rule:
    """A line of the table of essential variables, or several. Example: line("7 to 9")."""
    return Rule("variables", mark, source, number)


TABLE_5_1 = "public copy of D1.1:2020 Table 5.1 (conference handout)"
TABLE_3_1 = "public copy of D1.1:2015 Table 3.1"
TABLE_3_3 = "public copy of D1.1:2015 Table 3.3; US Army TI 809-26"
PREHEAT_MANUAL = "Lincoln Electric stick-electrode manual, preheat table"
TABLE_4_5 = "public copy of D1.1:2015 Table 4.5; AWS Forum, Jun 2019"
TABLE_9_10 = "public copy of D1.1:2015 Table 9.10"
CVN_FORUM = "AWS Forum, Jun 2016; inspectors' notes on D1.1:2015"
FIT_UP_BLOG = "inspector's blog on tolerances of joint details (2015), 2023"
DETAIL_NOTES = "public notes on D1.1:2015 Figs 3.2 and 3.3"
DESIGNERS_HANDBOOK = "Structural Steel Designer's Handbook, Table 5.4"
BACKING_THREAD = "Eng-Tips thread on joint qualification (D1.1:2010)"
ONE_WAY = "public explainer of D1.1:2025; testing-industry FAQ 10.010 (2006)"
FILLET_TABLE = "public explainer of D1.1:2025; AWS Forum, Nov 2024"
CONTRACTOR_BLOG = "inspector's blog on 4.2.1.1, 2011"
GROUP_FORUM = "AWS Forum on base metal groups, Mar 2017 (idea of groups); rest from memory"
PREQUALIFIED_PAGES = "Lincoln Arc Welding Foundation; exam page on clause 5 (2026)"
INTERPRETATION = "AWS interpretation D1.1-08-I01"
D1_3 = "The Official Book of D1.1 Interpretations, 2nd ed.: under 1/8 in belongs to D1.3"
SKEWED = "Lincoln Electric, Designing Fillet Welds for Skewed T-joints"
VERTICAL_DOWN = "The Fabricator, Arc Welding 101"
OWN = "convention of this register"
