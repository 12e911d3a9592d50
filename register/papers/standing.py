"""What anybody may learn of a printed paper by its check code: nothing that is not printed on it."""

from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from register.papers.codes import check_code, digest
from register.papers.kinds import KINDS, Stated
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
    day = found.on.isoformat()
    said = _said_today(found)
    if said is None:
        return PaperStanding(found.title, "Withdrawn", "What it speaks of is no longer on file. Do not use it.")
    if said == (found.facts_sha256 or code):
        return _for_today(found, day)
    if found.facts_sha256:
        sentence = f"The register says something else today for {day}. Do not use it; print it anew."
    else:
        # Nothing but its words is on file of what it said: a later version may say the same in others.
        sentence = f"The register says something else today for {day}, or in other words. Do not use it; print it anew."
    return PaperStanding(found.title, "Superseded", sentence)


def _for_today(found: PrintedPaper, day: str) -> PaperStanding:
    """A paper that still says what was so on its day: whoever scans it wants to know of today.

    A card is carried for months; its certificate may have been revoked since.
    """
    kind, today = KINDS[found.kind], timezone.localdate()
    if found.facts_sha256 and found.on < today:
        then, now = (_undated(kind.facts(found.subject_id, on)) for on in (found.on, today))
        if then != now:
            sentence = f"It was so on {day}; for today the register says something else. Do not use it; print it anew."
            return PaperStanding(found.title, "Out of date", sentence)
    return PaperStanding(found.title, CURRENT, f"The register still says the same for {day}.")


def _undated(facts: Stated | None) -> dict[str, Any]:
    """The facts without the day that was asked about."""
    return {name: fact for name, fact in (facts or {}).items() if name != "on"}


def _said_today(found: PrintedPaper) -> str | None:
    """The digest of today's facts; of a paper without them the code of today's content; None where nothing is left."""
    kind = KINDS.get(found.kind)
    if kind is None:
        return None
    if not found.facts_sha256:
        content = kind.content(found.subject_id, found.on)
        return None if content is None else check_code(content)
    facts = kind.facts(found.subject_id, found.on)
    return None if facts is None else digest(facts)
