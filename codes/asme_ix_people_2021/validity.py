"""ASME IX, QW-322: how long a person's qualifications last.

Six months or more without the process ends all of them; the day six months after the last weld is itself too late
(strict). Use by hand keeps welders' qualifications alive, use by machine operators', each by process. After a lapse
one test of the process, of any kind, renews them; after a revocation for cause it must match the production work.
"""

from dataclasses import replace

from codes.asme_ix_people_2021.clauses import ARTICLE_III, CHANGES_SLIDES, RENEWAL, confirmed, memory, partly
from codes.continuity import HAND, MACHINE, Rules, continuity_periods
from codes.readings import Settings
from codes.validity import Validity, ValidityInput

WELDER = Rules(
    start=confirmed("QW-322.1(a)", ARTICLE_III),
    use=partly("QW-322.1(a)", RENEWAL, CHANGES_SLIDES, "the day rule is our strict reading"),
    revoke=memory("QW-322.1(b)"),
    renew=confirmed("QW-322.2", RENEWAL),
    modes=HAND,
    lapses_on_day=True,
    mode_apart=False,
    from_results=False,
    revoked_renewal=("like_production", "a test like the planned production work"),
)
OPERATOR = replace(WELDER, modes=MACHINE)


def welder_periods(given: ValidityInput, settings: Settings) -> Validity:
    """A welder's periods. Example: last weld 15 January 2024, valid to 14 July 2024, lapsed on 15 July."""
    return continuity_periods(given, WELDER)


def operator_periods(given: ValidityInput, settings: Settings) -> Validity:
    """An operator's periods; only welding by machine counts as use."""
    return continuity_periods(given, OPERATOR)
