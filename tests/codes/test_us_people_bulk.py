"""People of AWS D1.1 and ASME IX: the answer in bulk equals the explained one, for tests and joints drawn at random."""

import random
from decimal import Decimal

import pytest

from codes.bulk import Compiled
from codes.check import check
from codes.editions import edition
from codes.terms import tokens
from codes.values import Value
from codes.variables import VARIABLES, Kind
from codes.verdict import Outcome
from tests.codes.test_asme_ix_people_cases import BASES as ASME
from tests.codes.test_aws_d1_1_people_cases import BASES as AWS
from tests.codes.us_people_cases import values

BOOKS = [(f"AWS D1.1:2020 {kind}", bases) for kind, bases in AWS.items()]
BOOKS += [(f"ASME IX:2021 {kind}", bases) for kind, bases in ASME.items()]


def changed(base: dict[str, Value], names: tuple[str, ...], draw: random.Random) -> dict[str, Value]:
    """The base with up to three variables changed or left out."""
    found = dict(base)
    for name in draw.sample(names, draw.randrange(0, 4)):
        known = VARIABLES[name]
        if draw.random() < 0.3:
            found.pop(name, None)
        elif known.kind is Kind.TERM:
            found[name] = draw.choice(tokens(known.vocabulary))
        elif known.kind is Kind.NUMBER:
            found[name] = Decimal(draw.choice(("3", "9.525", "10", "24.9", "25", "73", "610", "800")))
    return found


@pytest.mark.parametrize(("key", "bases"), BOOKS, ids=[key for key, _ in BOOKS])
def test_bulk_equals_explained(key: str, bases: tuple[dict[str, object], dict[str, object]]) -> None:
    code, draw = edition(key), random.Random(9)
    names = tuple(field.name for field in code.fields)
    tested, joint = values(bases[0], ""), values(bases[1], "")
    sets = [s for _ in range(40) for s in code.limit_sets([changed(tested, names, draw)], {})]
    compiled = Compiled(sets)
    seen: set[Outcome] = set()
    for _ in range(60):
        demand = changed(joint, code.demand, draw)
        covered, outside = compiled.masks(demand)
        for i, limits in enumerate(sets):
            outcome = check(demand, limits).outcome
            seen.add(outcome)
            assert (covered >> i & 1, outside >> i & 1) == (outcome is Outcome.COVERED, outcome is Outcome.OUTSIDE)
    assert seen == set(Outcome)
