"""What is kept of values and limits where other words for the same must change nothing, and other sense everything."""

import json
import pkgutil
import typing
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal as D
from importlib import import_module
from inspect import getmembers, isclass
from typing import Any

import pytest

import codes
from codes import facts
from codes.clauses import Clause, Mark
from codes.editions import all_editions, edition
from codes.facts import fact, finding_fact, limit_fact, limits_facts, read_or_kept, state_fact
from codes.iso_15614_1_2017 import steels
from codes.limits import Free, Limit, Nothing, OneOf, Unrecorded, Within, span, unless, when_is
from codes.parse import parse_values
from codes.validity import Event, ValidityInput
from codes.values import Interval, Steel, SteelPair
from codes.verdict import Finding, Outcome
from tests.codes.test_iso_9606_1_2012_ranges import BUTT

TABLE = Clause("ISO 15614-1:2017", "8.3.2, Table 7", Mark.MEMORY, "a handout")
LIMIT = Limit(
    "parent_t", span(D(3), D("16.0"), "mm"), TABLE, "tested t = 8 mm: 3 to 2 t", (when_is("product", "plate"),)
)
NAMES = frozenset({
    "Above", "AnySteels", "AsTested", "BackingSteels", "EquivalentFiller", "GroupPairs", "Groups", "InCategory",
    "InGroups", "Known", "Listed", "Low", "LowHydrogen", "Matched", "Metals", "Mixtures", "NotAfter", "NotVerified",
    "OfClass", "OfFNumber", "OfFamily", "OfGroups", "OfSpecification", "PNumbers", "ParentGroups", "SameClass",
    "SameMixture", "SameStrength", "SameText", "Steels", "StrengthUpTo", "Structural", "Suited", "UpTo", "YieldCap",
})  # fmt: skip


@pytest.mark.parametrize(
    ("value", "kept"),
    [
        (D("16.00"), "16"),
        (D("1E+2"), "100"),
        (D("-0.0"), "0"),
        (0.5, "0.5"),
        ("PB", "PB"),
        (True, True),
        (None, None),
        (date(2026, 3, 2), "2026-03-02"),
        (Mark.DOUBT, "DOUBT"),
        (Interval(D("3.0"), D(16), "mm"), {"from": "3", "to": "16", "unit": "mm"}),
        (Interval(None, D(16), "mm", hi_open=True), {"to": "16", "to_open": True, "unit": "mm"}),
        (Interval(D(0), None, "mm"), {"from": "0", "unit": "mm"}),
        (OneOf(("PB", "PA")), {"one_of": ["PA", "PB"]}),
        (Free(), {"set": "free"}),
        (Nothing(), {"set": "nothing"}),
        (Unrecorded("its code"), {"set": "unrecorded"}),
        (frozenset({"b", "a"}), ["a", "b"]),
        (("b", D(2)), ["b", "2"]),
        ({"ar": D("80.0")}, {"ar": "80"}),
        (unless("product", "pipe"), {"variable": "product", "allowed": {"one_of": ["pipe"]}, "negate": True}),
    ],
)
def test_what_is_kept_of_a_value(value: Any, kept: Any) -> None:
    assert fact(value) == kept


def test_parts_are_in_no_order_and_steels_whole() -> None:
    one, other = Steel("1.2", D("355.0"), "S355J2+N"), Steel(grade="S235JR")
    assert fact(SteelPair(one, other)) == fact(SteelPair(other, one))
    assert {"group": "1.2", "yield": "355", "grade": "S355J2+N"} in fact(SteelPair(one, other))


def test_what_is_no_value_is_refused() -> None:
    with pytest.raises(TypeError, match="object is no fact"):
        fact(object())


WORDS: dict[str, Callable[[Limit], Limit]] = {
    "derivation": lambda limit: replace(limit, because="other words"),
    "tested value in words": lambda limit: replace(limit, tested="8 mm"),
    "reading in words": lambda limit: replace(limit, readings=("strict: as before",)),
    "decimals": lambda limit: replace(limit, allowed=span(D("3.00"), D(16), "mm")),
    "how sure": lambda limit: replace(limit, clause=replace(TABLE, mark=Mark.CONFIRMED, source="the standard")),
}
SENSE: dict[str, Callable[[Limit], Limit]] = {
    "end": lambda limit: replace(limit, allowed=span(D(3), D("16.001"), "mm")),
    "open end": lambda limit: replace(limit, allowed=Within(Interval(D(3), D(16), "mm", lo_open=True))),
    "variable": lambda limit: replace(limit, variable="deposit_t"),
    "clause": lambda limit: replace(limit, clause=replace(TABLE, ref="8.3.2, Table 8")),
    "edition": lambda limit: replace(limit, clause=replace(TABLE, standard="ISO 15614-1:2027")),
    "condition": lambda limit: replace(limit, when=(unless("product", "plate"),)),
    "no condition": lambda limit: replace(limit, when=()),
    "evidence beyond it": lambda limit: replace(limit, needs="a macro test"),
    "assumed": lambda limit: replace(limit, assumed=D(2)),
    "least only": lambda limit: replace(limit, least_only=True),
}


@pytest.mark.parametrize("name", WORDS)
def test_other_words_of_a_limit_change_nothing(name: str) -> None:
    assert limit_fact(WORDS[name](LIMIT)) == limit_fact(LIMIT)


@pytest.mark.parametrize("name", SENSE)
def test_another_sense_of_a_limit_is_another_fact(name: str) -> None:
    assert limit_fact(SENSE[name](LIMIT)) != limit_fact(LIMIT)


def test_the_order_in_which_limits_are_shown_changes_nothing() -> None:
    other = replace(LIMIT, variable="position", allowed=OneOf(("PA", "PB")))
    turned = replace(other, allowed=OneOf(("PB", "PA")))
    assert limits_facts((LIMIT, other)) == limits_facts((turned, LIMIT))


def test_a_finding_is_kept_by_token_and_figure() -> None:
    found = Finding(
        "parent_t", "Parent thickness", Outcome.OUTSIDE, "20 mm", "3 to 16 mm", TABLE, "why", margin=D("-4.0"),
        unit="mm", reason="parent_t", limit=LIMIT.allowed, value=D(20),
    )  # fmt: skip
    kept = finding_fact(found)
    assert kept == finding_fact(replace(found, label="Thickness", wanted="20,0 mm", allowed="3–16", because="so"))
    assert (kept["outcome"], kept["asked"], kept["margin"], kept["unit"]) == ("OUTSIDE", "20", "-4", "mm")
    for other in ({"value": D("20.01")}, {"margin": D(-5)}, {"outcome": Outcome.NOT_STATED}, {"limit": Free()}):
        assert finding_fact(replace(found, **other)) != kept


def test_a_rule_of_our_own_is_named_in_words_which_are_left_out() -> None:
    assert fact(Clause("Job", "code that the contract names", Mark.OWN)) == facts.OWN_RULE
    assert fact(TABLE) == ["ISO 15614-1:2017", "8.3.2, Table 7"]


def own_sets() -> dict[str, type]:
    found = {}
    for module in pkgutil.walk_packages(codes.__path__, "codes."):
        if not module.name.endswith("__main__"):
            for name, one in getmembers(import_module(module.name), isclass):
                if hasattr(one, "admits") and is_dataclass(one) and one.__module__ != "codes.limits":
                    found[name] = one
    return found


def test_the_names_of_the_sets_stay() -> None:
    """Facts tell a set by its name: another name would call every paper that states it superseded."""
    assert own_sets().keys() == NAMES


def test_no_set_of_a_code_holds_a_sentence() -> None:
    """A text in a set is a token, a designation or a group; a further one is looked at before it is named here."""
    texts = {
        f"{name}.{one.name}"
        for name, kind in own_sets().items()
        for one in fields(kind)
        if typing.get_type_hints(kind)[one.name] is str
    }
    assert texts == {"InCategory.category", "OfFamily.family"}


def test_a_range_that_a_table_gives_changes_with_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    s355 = Steel("1.2", D(355))
    before = fact(steels.GroupPairs(SteelPair(s355, s355)))
    monkeypatch.setitem(steels.PARTNERS, (1, 1), ())
    assert fact(steels.GroupPairs(SteelPair(s355, s355))) != before


def test_every_limit_of_a_certificate_can_be_kept() -> None:
    (found,) = edition("ISO 9606-1:2012").limit_sets([parse_values(BUTT)], {})
    kept = limits_facts(found.limits)
    assert len(kept) == len(found.limits)
    assert json.loads(json.dumps(kept)) == kept


@pytest.mark.parametrize("known", [one for one in all_editions() if one.periods], ids=lambda one: one.key)
def test_a_state_is_kept_by_its_days(known: Any) -> None:
    welded = date(2025, 1, 31)
    given = ValidityInput(welded, "b", facts={"process": "135", "employer": "Nordhalle"})
    valid = known.periods(given, {}).state(date(2025, 2, 1))
    assert state_fact(valid)["since"] == "2025-01-31"
    assert state_fact(valid) == state_fact(replace(valid, because="in other words", missing=""))
    lapsed = known.periods(given, {}).state(date(2027, 12, 1))
    assert lapsed.valid or "2025-01-31" in state_fact(lapsed)["told"]  # that of a tack welder has no clock
    revoked = replace(given, events=(Event("revocation", date(2025, 2, 3), "E. Munk", {"why": "work in doubt"}),))
    told = state_fact(known.periods(revoked, {}).state(date(2025, 3, 1)))["told"]
    assert told[:2] == ["2025-02-03", "work in doubt"]


def test_why_an_act_does_not_count_is_kept_by_what_it_states() -> None:
    """ISO 9606-1, 9.3 b, from memory: a prolongation needs two welds; the answer keeps what was stated of it."""
    scheme = edition("ISO 9606-1:2012")
    given = ValidityInput(date(2023, 1, 31), "b")
    weak = Event("prolongation", date(2025, 1, 20), "E. Munk", {"weld_1": "2025-01-10"})
    signed = tuple(Event("confirmation", day) for day in map(date.fromisoformat, (
        "2023-07-31", "2024-01-31", "2024-07-31", "2025-01-20",
    )))  # fmt: skip
    state = scheme.periods(replace(given, events=(*signed, weak)), {}).state(date(2025, 3, 1))
    assert "weld_1: 2025-01-10" in state.told


def test_tested_values_that_cannot_be_read_are_facts_as_they_stand() -> None:
    def unread() -> list[Any]:
        raise ValueError("no such position")

    assert read_or_kept(lambda: [{"parent_t": D("12.0")}], []) == [{"parent_t": "12"}]
    assert read_or_kept(unread, [{"position": "P9"}]) == [[{"position": "P9"}]]
