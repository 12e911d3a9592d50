"""ISO 9606-1:2012, clause 9: how long a welder's certificate is valid.

The clock is the one shared by the people's standards (`codes.confirmations`, which also names events and facts):
confirmation every six months; option a, a new test after 3 years; b, two welds tested in the last 6 months of each
2 years; c, no end while the conditions hold. The day on which a period ends still counts.
"""

from codes.confirmations import Scheme, confirmed_periods
from codes.iso_9606_1_2012.clauses import (
    CONTENTS,
    DEKRA,
    FRENCH_PAGE,
    KIWA,
    METALL_ZERT,
    STANDARD,
    confirmed,
    partly,
)
from codes.readings import Settings
from codes.validity import Validity, ValidityInput

NEW_TEST_YEARS = 3
TERM_YEARS = 2

SCHEME = Scheme(
    standard=STANDARD,
    start=confirmed("9.1", METALL_ZERT),
    confirm=confirmed("9.2", KIWA, METALL_ZERT),
    revalidate=partly("9.3", DEKRA, KIWA, METALL_ZERT, FRENCH_PAGE),
    revoke=partly("9.4", CONTENTS),
    new_test_years=NEW_TEST_YEARS,
    term_years=TERM_YEARS,
)


def periods(given: ValidityInput, settings: Settings) -> Validity:
    """The periods of validity; settings change nothing, as no reading of clause 9 is left open.

    Example: welded 31 August 2024 and not confirmed, valid to 28 February 2025, that day included.
    """
    return confirmed_periods(given, SCHEME)
