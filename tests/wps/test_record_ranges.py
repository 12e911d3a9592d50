"""What several test pieces of a record earned, said once where they share it."""

from decimal import Decimal as D

from codes.limits import Clause, Limit, OneOf, Within
from codes.values import Interval
from wps.limits_view import Earned, LimitLine
from wps.record_ranges import apart, ranges

CLAUSE = Clause("ISO 15614-1:2017", "8.3.2")


def line(variable: str, hi: str, *conditions: str) -> LimitLine:
    limit = Limit(variable, Within(Interval(D(3), D(hi), "mm")), CLAUSE)
    return LimitLine("Parent thickness", "", str(limit.allowed), limit, None, conditions)


def position(*tokens: str) -> LimitLine:
    return LimitLine("Position", "", ", ".join(tokens), Limit("position", OneOf(tokens), CLAUSE), None, ())


def test_what_all_share_is_said_once_and_nothing_is_lost() -> None:
    one, other = (
        Earned("R", (position("PB"), line("parent_t", "24"))),
        Earned("R", (position("PB"), line("parent_t", "40"))),
    )
    found = ranges((one, other), 2)
    assert [heading for heading, _ in found] == ["what all of them share", "test piece 1 alone", "test piece 2 alone"]
    assert [[row["allowed"] for row in rows] for _, rows in found] == [["PB"], ["3 to 24 mm"], ["3 to 40 mm"]]


def test_alternatives_that_are_no_single_pieces_are_told_apart() -> None:
    three = [Earned(label, (line("parent_t", hi),)) for label, hi in (("141", "8"), ("135", "12"), ("135", "24"))]
    assert [heading for heading, _ in ranges(three, 2)] == ["141", "135 (2)", "135 (3)"]
    assert [heading for heading, _ in ranges(three[:1], 2)] == [""]
    assert ranges((), 0) == []


def test_the_page_tells_the_same_parts_apart_with_their_limits() -> None:
    one, other = (
        Earned("R", (position("PB"), line("parent_t", "24")), (position("PA"),)),
        Earned("R", (position("PB"), line("parent_t", "40")), (position("PA"),)),
    )
    shared, first, second = apart((one, other), 2)
    assert (shared.label, shared.lines, shared.free) == (
        "what all of them share", (position("PB"),), (position("PA"),),
    )  # fmt: skip
    assert (first.label, first.lines, first.free) == ("test piece 1 alone", (line("parent_t", "24"),), ())
    assert second.lines == (line("parent_t", "40"),)
    assert [found.label for found in apart((one,), 1)] == [""]
