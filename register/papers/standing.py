"""What anybody may learn of a printed paper by its check code: nothing that is not printed on it."""

from dataclasses import dataclass

from register.papers.codes import check_code
from register.papers.kinds import KINDS
from register.papers.models import PrintedPaper
from register.plants.reach import whole

CURRENT = "Current"


@dataclass(frozen=True, slots=True)
class PaperStanding:
    """`title` is that of the paper."""

    title: str
    word: str
    sentence: str

    @property
    def warns(self) -> bool:
        """True for a paper that is not to be used."""
        return self.word != CURRENT


def paper_standing(code: str) -> PaperStanding | None:
    """Whether the register still says what a paper says, or None where no such paper was printed.

    Whoever holds the paper may know, of whichever plant it speaks.
    """
    with whole():
        return _standing(code)


def _standing(code: str) -> PaperStanding | None:
    found = PrintedPaper.objects.filter(check_code=code).defer("pdf").first()
    if found is None:
        return None
    kind = KINDS.get(found.kind)
    day = found.on.isoformat()
    now = kind.content(found.subject_id, found.on) if kind else None
    if now is None:
        return PaperStanding(found.title, "Withdrawn", "What it speaks of is no longer on file. Do not use it.")
    if check_code(now) != code:
        # A code is that of the words too: a later version of the register may say the same in others.
        sentence = f"The register says something else today for {day}, or in other words. Do not use it; print it anew."
        return PaperStanding(found.title, "Superseded", sentence)
    return PaperStanding(found.title, CURRENT, f"The register still says the same for {day}.")
