"""ISO 14732:2013, clause 5: six-monthly confirmation; a, a new test after 6 years; b, terms of 3 years; c, no end."""

from codes.confirmations import Scheme, confirmed_periods
from codes.iso_14732_2013.clauses import CONFIRM, REVALIDATE, REVOKE, STANDARD, START
from codes.readings import Settings
from codes.validity import Validity, ValidityInput

SCHEME = Scheme(STANDARD, START, CONFIRM, REVALIDATE, REVOKE, new_test_years=6, term_years=3)


def periods(given: ValidityInput, settings: Settings) -> Validity:
    """The validity of an operator's certificate. Example: option a, welded 1 April 2020, ends on 1 April 2026."""
    return confirmed_periods(given, SCHEME)
