"""What several test pieces of a record earned, said once where they share it; what was measured, in either system."""

from decimal import Decimal as D

from codes.limits import Clause, Limit, OneOf, When, Within
from codes.units import System
from codes.values import Interval
from wps.limits_view import Earned, LimitLine
from wps.record_ranges import measured, ranges

CLAUSE = Clause("ISO 15614-1:2017", "8.3.2")


def line(variable: str, hi: str, *conditions: str) -> LimitLine:
    limit = Limit(variable, Within(Interval(D(3), D(hi), "mm")), CLAUSE)
    return LimitLine("Parent thickness", "", limit, None, conditions)


def position(*tokens: str) -> LimitLine:
    return LimitLine("Position", "", Limit("position", OneOf(tokens), CLAUSE), None, ())


def test_what_all_share_is_said_once_and_nothing_is_lost() -> None:
    one, other = (
        Earned("R", (position("PB"), line("parent_t", "24"))),
        Earned("R", (position("PB"), line("parent_t", "40"))),
    )
    found = ranges((one, other), 2, System.SI)
    assert [heading for heading, _ in found] == ["what all of them share", "test piece 1 alone", "test piece 2 alone"]
    assert [[row["allowed"] for row in rows] for _, rows in found] == [["PB · 2F"], ["3 to 24 mm"], ["3 to 40 mm"]]


def test_alternatives_that_are_no_single_pieces_are_told_apart() -> None:
    three = [Earned(label, (line("parent_t", hi),)) for label, hi in (("141", "8"), ("135", "12"), ("135", "24"))]
    assert [heading for heading, _ in ranges(three, 2, System.SI)] == ["141", "135 (2)", "135 (3)"]
    assert [heading for heading, _ in ranges(three[:1], 2, System.SI)] == [""]
    assert ranges((), 0, System.SI) == []


def test_limits_and_their_conditions_in_us_units_never_wider() -> None:
    """16 mm is 0.6299 in: shown 0.629; 3 mm is 0.1181 in: shown 0.119."""
    one = Earned("R", (line("parent_t", "16", str(When("diameter", Within(Interval(None, D(500), "mm"))))),))
    ((_, (row,)),) = ranges((one,), 1, System.US)
    assert row["allowed"].startswith("0.119 to 0.629 in, where ")
    assert "mm" not in row["allowed"]


def test_what_was_measured() -> None:
    runs = [{"run": "1 root", "process": "141", "speed_mm_min": "180-200", "current_a": "about 90"}, {"run": "2"}]
    heads, rows = measured(runs, System.US)
    assert heads == ["Run", "Process", "Current, A", "Speed, in/min"]
    assert rows == [["1 root", "141", "about 90", "7.1–7.8"], ["2", "–", "–", "–"]]
    assert measured(runs, System.SI)[1][0][-1] == "180–200"
    assert measured([], System.SI) == ([], [])
