"""ISO 14732:2013: the places its rules stand in, how sure the register is of each, and who published it."""

from codes.clauses import Clause, Mark

STANDARD = "ISO 14732:2013"
MEMORY = "from memory of the 2013 edition; check against the standard before an audit"


def _clause(ref: str, mark: Mark = Mark.MEMORY, source: str = MEMORY) -> Clause:
    return Clause(STANDARD, ref, mark, source)


SCOPE = _clause("1", Mark.CONFIRMED, "scope on the ISO 14732:2025 catalogue page and an Italian institute's page (STS)")
METHODS = _clause("4.1", Mark.CONFIRMED, "pages of DEKRA Sweden and STS Italy")
FUNCTIONAL = _clause("4.1, Annex A", Mark.CONFIRMED, "DEKRA Sweden; introduction of the 2013 edition")
PROCESS = _clause("4.2", Mark.DOUBT, "equal number only; an exchange of 135 and 138 is not assumed")
ROLE = _clause("4.2", Mark.DOUBT, "operator and setter taken as separate")
MODE = _clause("4.2")
UNIT = _clause("4.2", Mark.PART, "Belgian trade magazine (what a unit is), DEKRA Sweden (variable of EN 1418)")
ARCS = _clause("4.2", Mark.DOUBT, "taken as a change of the welding unit")
SENSOR_KEPT = _clause("4.2", Mark.PART, "variable seen for EN 1418 (DEKRA Sweden); direction from memory")
SENSOR_ADDED = _clause("4.2", Mark.DOUBT, "direction not confirmed: a sensor that was not tested is refused")
RUNS = _clause("4.2", Mark.PART, "variable seen for EN 1418 (DEKRA Sweden); direction from memory")
MECHANISED = _clause("4.2")
POSITION = _clause("4.2; ISO 9606-1, Tables 9 and 10")
BACKING = _clause("4.2", Mark.DOUBT, "only 'deletion of the backing' is remembered; a change of kind is refused")
START = _clause("5.1", Mark.CONFIRMED, "fragment of the 2013 text on a public standards page")
CONFIRM = _clause(
    "5.2", Mark.PART, "clause and need confirmed by contents list and text fragment; six months from memory"
)
REVALIDATE = _clause(
    "5.3", Mark.PART, "six and three years, two welds: a Turkish certification body; option c from memory"
)
REVOKE = _clause("5.4", Mark.PART, "clause number from a public contents list; content from memory")
