"""Long figures of an answer are told to a thousandth and never on the other side of an end; judged is the whole one."""

import json
import re
from decimal import Decimal as D

import pytest

from codes.__main__ import main
from codes.clauses import Clause
from codes.door.examples import EXAMPLES
from codes.door.shortened import finding_in_short, in_short
from codes.limits import Within
from codes.values import Interval
from codes.verdict import Finding, Outcome
from codes.words import value_words

RAW = re.compile(r"\d\.\d{5,}")


def finding(value: D | Interval, lo: str | None, hi: str | None, margin: str | None = None) -> Finding:
    span = Interval(None if lo is None else D(lo), None if hi is None else D(hi), "mm")
    inside = isinstance(value, D) and span.holds(value)
    return Finding(
        "parent_t", "Parent thickness", Outcome.COVERED if inside else Outcome.OUTSIDE, value_words("parent_t", value),
        str(span), Clause("ISO 15614-1:2017", "8.3.2"), margin=None if margin is None else D(margin), unit="mm",
        limit=Within(span), value=value,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("value", "lo", "hi", "wanted", "allowed"),
    [
        ("12.7", "3", "12.7", "12.7 mm", "3 to 12.7 mm"),
        ("12.700000001", "3", "12.7", "12.701 mm", "3 to 12.7 mm"),
        ("12.699999999", "3", "12.7", "12.7 mm", "3 to 12.7 mm"),
        ("2.999999999", "3", "12.7", "2.999 mm", "3 to 12.7 mm"),
        ("15.1023181824", "15.1023181824", "28.316846592", "15.103 mm", "15.103 to 28.316 mm"),
        ("28.316846592", "15.1023181824", "28.316846592", "28.316 mm", "15.103 to 28.316 mm"),
        ("28.3168465921", "15.1023181824", "28.316846592", "28.317 mm", "15.103 to 28.316 mm"),
        ("4.7625", None, "4.7625", "4.7625 mm", "up to 4.7625 mm"),
        ("0.00001", "0.00001", "0.00002", "0.00001 mm", "0.00001 to 0.00002 mm"),
    ],
)
def test_a_figure_stays_on_its_side(value: str, lo: str | None, hi: str | None, wanted: str, allowed: str) -> None:
    told = finding_in_short(finding(D(value), lo, hi))
    assert (told.wanted, told.allowed) == (wanted, allowed)


@pytest.mark.parametrize(
    ("margin", "said"),
    [
        ("-0.000000001", "misses by 0.001 mm"),
        ("0.0009999", "at its limit"),
        ("13.88955555", "13.889 mm to spare"),
        ("-1.5", "misses by 1.5 mm"),
    ],
)
def test_a_margin_is_never_better_than_it_is(margin: str, said: str) -> None:
    assert finding_in_short(finding(D(5), "3", "12.7", margin)).margin_text == said


def test_a_window_is_told_by_its_ends() -> None:
    span = Interval(D("2.999999999"), D("12.700000001"), "mm")
    assert finding_in_short(finding(span, "3", "12.7")).wanted == "2.999 to 12.701 mm"


def test_figures_in_words() -> None:
    assert in_short("tested 15.55555555556 °C, 1.2345 mm, 2026.11111") == "tested 15.556 °C, 1.2345 mm, 2026.111"
    assert in_short("clause 8.3.2.12345") == "clause 8.3.2.12345"


@pytest.mark.parametrize("name", [*EXAMPLES])
def test_no_example_tells_a_raw_figure(name: str) -> None:
    """Neither in a sentence nor in any of the words; the ends of `range` and what is not covered stay whole."""
    _, question = main(["--example", name], b"")
    answer = json.loads(main([], question.encode())[1])

    def words(plain: object) -> list[str]:
        if isinstance(plain, dict):
            return [one for key, held in plain.items() if key not in ("range", "uncovered") for one in words(held)]
        if isinstance(plain, list):
            return [one for held in plain for one in words(held)]
        return [plain] if isinstance(plain, str) else []

    assert [one for one in words(answer) if RAW.search(one)] == []


LAPSED = {
    "kind": "welder", "code": "EN ISO 9606-1:2017", "label": "W 1", "tested_on": "2025-03-15", "option": "a",
    "tested": {
        "process": "135", "transfer_mode": "S", "product": "P", "weld_type": "BW", "filler_group": "FM1",
        "filler_type": "S", "deposit_t": 12, "layers": 4, "position": "PA", "weld_detail": "ss mb",
    },
}  # fmt: skip
WELD = {name: said for name, said in LAPSED["tested"].items() if name != "layers"} | {  # type: ignore[attr-defined]
    "mechanisation": "partly mechanised", "deposit_t": 15,
}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "on", "begins", "ends"),
    [
        ({}, "2025-06-01", "Covered by butt weld 135. W 1 is valid on", "."),
        ({}, "2026-11-29", "W 1 is not valid on 2026-11-29: ", "By its limits alone the demand would be covered."),
        (
            {"tested_on": None, "option": None},
            "2026-11-29",
            "W 1: the record does not state",
            "would be covered.",
        ),
    ],
)
def test_an_answer_that_is_not_covered_does_not_begin_with_covered(
    change: dict[str, object], on: str, begins: str, ends: str
) -> None:
    record = {name: said for name, said in (LAPSED | change).items() if said is not None}
    code, printed = main([], json.dumps({"record": record, "demand": WELD, "on": on}).encode())
    answer = json.loads(printed)
    assert answer["sentence"].startswith(begins) and answer["sentence"].endswith(ends)
    assert (code == 0) == answer["sentence"].startswith("Covered")


def test_of_several_lapsed_records_and_a_miss_the_miss_stands_first() -> None:
    demand = WELD | {"position": "PF"}
    code, printed = main([], json.dumps({"record": LAPSED, "demand": demand, "on": "2026-11-29"}).encode())
    said = json.loads(printed)["sentence"]
    assert code == 1 and said.startswith("Outside for butt weld 135: Position PF") and "not valid on" in said
