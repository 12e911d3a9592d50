"""Short questions to the people of AWS D1.1, over the bases of the case table."""

from codes.check import best
from codes.editions import edition
from codes.verdict import Outcome, Verdict
from tests.codes.test_aws_d1_1_people_cases import BASES
from tests.codes.us_people_cases import values

CODE = {kind: edition(f"AWS D1.1:2020 {kind}") for kind in BASES}


def ask(tested: str, demand: str, kind: str = "welder", settings: dict[str, str] | None = None) -> Verdict:
    pieces = [values(BASES[kind][0], part) for part in tested.split("&&")]
    return best(values(BASES[kind][1], demand), CODE[kind].limit_sets(pieces, settings or {}))


def covered(tested: str, demand: str, kind: str = "welder", settings: dict[str, str] | None = None) -> bool:
    return ask(tested, demand, kind, settings).outcome is Outcome.COVERED
