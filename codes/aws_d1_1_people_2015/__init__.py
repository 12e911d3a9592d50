"""AWS D1.1:2015, clause 4 Part C and clause 9: welders, operators and tack welders.

As far as its tables were seen or are remembered they equal those of 2020; only the numbering differs, so the limits
are those of `codes.aws_d1_1_people_2020` under the numbers of 2015.
"""

from collections.abc import Sequence
from dataclasses import replace

from codes.aws_d1_1_people_2020 import OPERATOR, TACK_WELDER, WELDER
from codes.aws_d1_1_people_2020.clauses import numbered_2015
from codes.aws_d1_1_people_2020.validity import OPERATOR as OPERATOR_RULES
from codes.aws_d1_1_people_2020.validity import TACK as TACK_RULES
from codes.aws_d1_1_people_2020.validity import WELDER as WELDER_RULES
from codes.clauses import Clause
from codes.continuity import Rules, continuity_periods
from codes.editions import Edition, Tested
from codes.limits import LimitSet
from codes.readings import Settings
from codes.us_people import as_standard
from codes.validity import Validity, ValidityInput

STANDARD = "AWS D1.1:2015"


def as_2015(where: Clause) -> Clause:
    """The clause as this edition has it."""
    return replace(where, standard=STANDARD, ref=numbered_2015(where.ref))


def _rules(rules: Rules) -> Rules:
    return replace(
        rules,
        start=as_2015(rules.start),
        use=as_2015(rules.use),
        revoke=as_2015(rules.revoke),
        renew=as_2015(rules.renew),
    )


def _edition(edition: Edition, rules: Rules, person: str) -> Edition:
    old = _rules(rules)

    def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
        return as_standard(edition.limit_sets(pieces, settings), STANDARD, as_2015, numbered_2015)

    def periods(given: ValidityInput, settings: Settings) -> Validity:
        return continuity_periods(given, old)

    return replace(
        edition,
        key=f"{STANDARD} {person}",
        fields=tuple(replace(field, clause=numbered_2015(field.clause)) for field in edition.fields),
        limit_sets=limit_sets,
        periods=periods,
        aliases=(f"AWS D1.1/D1.1M:2015 {person}",),
        switches=tuple(replace(switch, clause=numbered_2015(switch.clause)) for switch in edition.switches),
    )


EDITIONS = (
    _edition(WELDER, WELDER_RULES, "welder"),
    _edition(OPERATOR, OPERATOR_RULES, "operator"),
    _edition(TACK_WELDER, TACK_RULES, "tack welder"),
)
