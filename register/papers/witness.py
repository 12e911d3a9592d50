"""Printed papers against the trail: each was printed by an act, and is on file with the same bytes."""

from collections.abc import Iterator
from datetime import timedelta
from hashlib import sha256
from typing import Any

from register.models import AuditEntry
from register.papers.models import PrintedPaper

PRINTED = "printed a "
"""What the acts that print a paper begin with."""
AT_ONCE = timedelta(minutes=1)
"""A paper and its act are written together."""
FACTS = ("kind", "check_code", "paper", "units", "sha256")
LATER_FACTS = ("title", "on", "made_by")
"""What acts of earlier versions did not note."""
DIGEST = "facts_sha256"
"""What no paper had that was printed by an act that does not note it: one written in later is told."""


def facts_of(paper: PrintedPaper) -> dict[str, str]:
    """What the trail notes of a paper."""
    return {name: str(getattr(paper, name)) for name in (*FACTS, *LATER_FACTS, DIGEST)}


def unlike() -> Iterator[str]:
    """In a sentence each: papers that no act printed so, whose bytes are others, or that are gone.

    The same paper may have been printed of several things that say the same: then each has its act.
    """
    noted: dict[tuple[Any, ...], list[AuditEntry]] = {}
    for act in AuditEntry.objects.filter(act__startswith=PRINTED).order_by("number").iterator():
        noted.setdefault(_key(act.after or {}), []).append(act)
    for paper in PrintedPaper.objects.iterator(50):
        facts = facts_of(paper)
        acts = noted.pop(_key(facts), [])
        if not any(_printed(act, paper, facts) for act in acts):
            yield f"The paper {paper.check_code} ({paper.title}) is on file, and no act in the trail printed it so."
        elif not any(abs(act.at - paper.made_at) <= AT_ONCE for act in acts):
            yield f"The paper {paper.check_code} ({paper.title}) is on file with another moment than it was printed."
        elif sha256(bytes(paper.pdf)).hexdigest() != paper.sha256:
            yield f"The paper {paper.check_code} ({paper.title}) is not what was printed."
    for acts in noted.values():
        yield f"A paper of {acts[0].subject} was printed, and is not on file so."


def _printed(act: AuditEntry, paper: PrintedPaper, facts: dict[str, str]) -> bool:
    after = act.after or {}
    same = (act.subject_type, act.subject_id) == (paper.subject_type, paper.subject_id)
    same = same and after.get(DIGEST, "") == facts[DIGEST]
    return same and all(after.get(name, facts[name]) == facts[name] for name in LATER_FACTS)


def _key(facts: dict[str, Any]) -> tuple[Any, ...]:
    return tuple(str(facts.get(name)) for name in FACTS)
