"""What a person holds on a day: how many certificates are valid, for which processes, and what comes next."""

from dataclasses import dataclass
from datetime import date

from codes.readings import DEFAULTS, Settings
from codes.validity import Due
from qualifications.models import Person
from qualifications.offers import processes
from qualifications.periods import validity


@dataclass(frozen=True, slots=True)
class Standing:
    """The answer for one person and one day; `processes` are those tested in the valid certificates."""

    valid: int
    held: int
    processes: tuple[str, ...]
    next: Due | None

    @property
    def text(self) -> str:
        """In words. Example: "2 of 3 valid"."""
        return f"{self.valid} of {self.held} valid" if self.held else "none on file"


def standing(person: Person, on: date, settings: Settings = DEFAULTS) -> Standing:
    """The standing of a person, from certificates and events fetched before; asks the database nothing more."""
    valid, said, dues = 0, dict[str, None](), list[Due]()
    certificates = list(person.certificates.all())
    for certificate in certificates:
        state = validity(certificate, settings).state(on)
        if state.valid:
            valid += 1
            said |= dict.fromkeys(processes(certificate))
            dues += state.dues
    first = min(dues, key=lambda due: due.by, default=None)
    return Standing(valid, len(certificates), tuple(said), first)
