"""ASME BPVC Section IX, edition 2023: welders and welding operators.

As far as known its rules on people equal those of 2021 (`codes.asme_ix_people_2021`); what a public page confirmed
up to 2021 only (QW-404.32) is from memory here. Some paragraphs were renumbered: the numbers shown are those of 2021.
"""

from collections.abc import Sequence
from dataclasses import replace

from codes.asme_ix_people_2021 import OPERATOR, WELDER
from codes.asme_ix_people_2021.validity import OPERATOR as OPERATOR_RULES
from codes.asme_ix_people_2021.validity import WELDER as WELDER_RULES
from codes.clauses import Clause, Mark
from codes.continuity import Rules, continuity_periods
from codes.editions import Edition, Tested
from codes.limits import LimitSet
from codes.readings import Settings
from codes.us_people import as_standard
from codes.validity import Validity, ValidityInput

STANDARD = "ASME IX:2023"
CONFIRMED_TO_2021 = ("QW-404.32", "QW-322.1(a)")


def as_2023(where: Clause) -> Clause:
    """The clause as this edition has it."""
    mark = Mark.MEMORY if where.ref in CONFIRMED_TO_2021 else where.mark
    return replace(where, standard=STANDARD, mark=mark)


def _rules(rules: Rules) -> Rules:
    return replace(
        rules,
        start=as_2023(rules.start),
        use=as_2023(rules.use),
        revoke=as_2023(rules.revoke),
        renew=as_2023(rules.renew),
    )


def _edition(edition: Edition, rules: Rules, person: str) -> Edition:
    own = _rules(rules)

    def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
        return as_standard(edition.limit_sets(pieces, settings), STANDARD, as_2023)

    def periods(given: ValidityInput, settings: Settings) -> Validity:
        return continuity_periods(given, own)

    return replace(
        edition,
        key=f"{STANDARD} {person}",
        limit_sets=limit_sets,
        periods=periods,
        aliases=tuple(alias.replace("2021", "2023") for alias in edition.aliases),
    )


EDITIONS = (_edition(WELDER, WELDER_RULES, "welder"), _edition(OPERATOR, OPERATOR_RULES, "operator"))
