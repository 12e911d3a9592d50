"""AWS D1.1:2020, 6.2.3: how long a person's qualification is in effect.

Without end while the person welds with the process for the employer: a gap of more than six months ends it, six
months to the day do not. Tack welders have no such clock. A renewal test after a lapse may be made in 3/8 in
[10 mm] plate and revives the former range (6.25); after a failed one further training comes first.
"""

from dataclasses import replace

from codes.aws_d1_1_people_2020.clauses import (
    EFFECTIVENESS,
    NO_EXPIRY,
    RETEST,
    SIX_MONTHS,
    confirmed,
    memory,
)
from codes.continuity import HAND, MACHINE, Rules, continuity_periods
from codes.readings import Settings
from codes.validity import Validity, ValidityInput

FULL_TEST = ("full_test", "a full test of the same kind, not the short one in 3/8 in [10 mm]")

WELDER = Rules(
    start=memory("6.2.3"),
    use=confirmed("6.2.3.1", EFFECTIVENESS, SIX_MONTHS, NO_EXPIRY),
    revoke=confirmed("6.2.3.1 (2)", EFFECTIVENESS),
    renew=RETEST,
    modes=HAND,
    lapses_on_day=False,
    mode_apart=True,
    from_results=True,
    revoked_renewal=FULL_TEST,
)
OPERATOR = replace(WELDER, modes=MACHINE)
TACK = replace(WELDER, use=confirmed("6.2.3.2", EFFECTIVENESS), revoke=confirmed("6.2.3.2", EFFECTIVENESS), clock=False)


def welder_periods(given: ValidityInput, settings: Settings) -> Validity:
    """A welder's periods. Example: last weld 10 January 2025, in effect to 10 July 2025, that day included."""
    return continuity_periods(given, WELDER)


def operator_periods(given: ValidityInput, settings: Settings) -> Validity:
    """An operator's periods; only welding by machine counts as use."""
    return continuity_periods(given, OPERATOR)


def tack_periods(given: ValidityInput, settings: Settings) -> Validity:
    """A tack welder's periods: no six-month rule."""
    return continuity_periods(given, TACK)
