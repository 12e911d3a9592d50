"""EN 1090-2:2018, 7.4.2: which options of ISO 9606-1, 9.3 keep a welder qualified, by execution class and shop."""

from codes.clauses import Mark
from codes.confirmations import option_letter
from codes.en_1090_2_2018.figures import ALL, FIGURES_2018, MAGAZINE, QUALIFIED
from codes.en_1090_2_2018.quality import revalidation_options
from codes.limits import Allowed, Limit, OneOf, Unrecorded, when_is

GATE = "revalidation: "
REASON = "revalidation_option"
CLAUSE = FIGURES_2018.clause("7.4.2", Mark.CONFIRMED, MAGAZINE)
IN_CLASS_1 = (when_is("application_standard", FIGURES_2018.standard), when_is("execution_class", "EXC1"))


def revalidation_limits(option: str, iso_3834: str) -> tuple[Limit, ...]:
    """What the option of a welder's certificate means for work in execution class 1, where the clause names one.

    `option`: a, b or c as on the certificate; `iso_3834`: the part that the shop works to, "" where not stated. Counts
    only for a demand that states this application standard. Example: option c in a shop to part 4 serves no EXC1.
    """
    letter = option_letter(option)
    if not letter:
        return ()  # The certificate's own clock says what is missing.
    allowed, because = _allowed(letter, iso_3834)
    return (Limit("execution_class", allowed, CLAUSE, GATE + because, IN_CLASS_1, reason=REASON, tested=letter),)


def _allowed(letter: str, iso_3834: str) -> tuple[Allowed, str]:
    if letter in revalidation_options("EXC1", "ISO 3834-4"):
        return OneOf(ALL), f"option {letter} of ISO 9606-1, 9.3 counts in every shop"
    part = iso_3834.strip()[-1:]
    if not part:
        return Unrecorded("the part of ISO 3834 that the shop works to"), f"whether option {letter} counts hangs on it"
    if letter in revalidation_options("EXC1", iso_3834):
        return OneOf(ALL), f"option {letter} of ISO 9606-1, 9.3 counts in a shop to ISO 3834-{part}"
    only = " and ".join(revalidation_options("EXC1", iso_3834))
    because = f"in a shop to ISO 3834-{part} options {only} of ISO 9606-1, 9.3 count in EXC1, and this one is {letter}"
    return OneOf(QUALIFIED), because
