"""Is the trail whole, and is on file what it says? Walks the chain from its first entry and names the first break."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.utils.module_loading import import_string

from register.base.days import at_the_works
from register.plants.reach import whole
from register.trail.chain import START, entry_hash, fields_of
from register.trail.models import AuditEntry, AuditHead

ROWS_AT_ONCE = 2000
NOTED = re.compile(r"[0-9]{1,18}:[0-9a-fA-F]{64}")
"""An end of the chain, as it is noted outside the register."""


@dataclass(frozen=True, slots=True)
class Result:
    """How many entries were found in order, where the chain ends, and the first break, or "".

    `differs`: where the chain is whole, the first thing that is on file otherwise than the trail says, or "".
    """

    entries: int
    end: str
    problem: str = ""
    differs: str = ""

    @property
    def whole(self) -> bool:
        """True if nothing is broken, and all is on file as the trail says."""
        return not self.problem and not self.differs


@dataclass(slots=True)
class Walk:
    """Where the walk stands: the number and hash of the entry before."""

    number: int = 0
    hash: str = START

    def step(self, entry: AuditEntry) -> str:
        """Why this entry does not follow the one before, or ""."""
        expected = self.number + 1
        if entry.number != expected:
            gap = f"entry {expected}" if entry.number == expected + 1 else f"entries {expected} to {entry.number - 1}"
            return f"{gap} missing: entry {self.number or 'none'} is followed by entry {entry.number}."
        if entry.previous_hash != self.hash:
            return f"entry {entry.number} does not hold the hash of the entry before it: {_named(entry)}."
        try:
            hash_now = entry_hash(fields_of(entry), entry.number, entry.previous_hash)
        except (TypeError, ValueError):
            hash_now = "unreadable"
        if entry.hash != hash_now:
            return f"entry {entry.number} was changed after it was written: {_named(entry)}."
        self.number, self.hash = entry.number, entry.hash
        return ""


def verify(expected: str = "") -> Result:
    """Walk the whole chain, of all plants. `expected` is an end noted earlier ("NUMBER:HASH") that must still be in it.

    Reads without holding anybody up: entries written meanwhile are walked or left, never taken for a break.
    Raises ValueError for an `expected` of another form.
    """
    with whole():
        return _verified(noted(expected))


def not_the_noted(expected: str, found: Result) -> str:
    """Why an end noted earlier is not in a chain that is in order by itself; its form was read before."""
    number = int(expected.partition(":")[0])
    if number > found.entries:
        return f"The end noted is of entry {number}, and the trail ends with entry {found.entries}."
    return f"Entry {number} of the trail has another hash than the end noted."


def _verified(mark: tuple[int, str] | None) -> Result:
    head = AuditHead.objects.filter(pk=1).first()
    walk, marks = Walk(), dict([mark] if mark else [])
    if head is not None:
        marks.setdefault(head.number, head.hash)
    for entry in _read(walk):
        if isinstance(entry, str):
            return Result(walk.number, f"{walk.number}:{walk.hash}", entry)
        if problem := walk.step(entry) or _unlike(entry, marks):
            return Result(walk.number, f"{walk.number}:{walk.hash}", problem)
    problem = _end(walk, head, mark)
    return Result(walk.number, f"{walk.number}:{walk.hash}", problem, "" if problem else differences())


def differences() -> str:
    """The first thing that is on file otherwise than the trail says, or "". Each app looks after its own.

    An act that was written between two questions is no difference: only what is found twice counts.
    """
    with whole():
        return _differences()


def _differences() -> str:
    first = _on_file()
    again = set(_on_file()) if first else set()
    return next((sentence for sentence in first if sentence in again), "")


def _on_file() -> list[str]:
    return [sentence for path in settings.TRAIL_WITNESSES for sentence in _said(path)]


def _said(path: str) -> Iterator[str]:
    """What one app finds. SQLite keeps any text in any column: a day that is none is a finding too."""
    try:
        yield from import_string(path)()
    except (ValueError, TypeError, ArithmeticError, AttributeError, LookupError) as problem:
        yield f"A row is on file that cannot be read ({path.removesuffix('.unlike')}): {problem}."


def entries() -> Iterator[AuditEntry]:
    """All entries in the order of the chain, a bounded number in memory."""
    return AuditEntry.everything.order_by("number").iterator(chunk_size=ROWS_AT_ONCE)


def _read(walk: Walk) -> Iterator[AuditEntry | str]:
    """All entries; a sentence in place of one that cannot be read."""
    try:
        yield from entries()
    except (ValueError, TypeError) as problem:
        yield f"an entry after entry {walk.number} cannot be read: {problem}."


def _unlike(entry: AuditEntry, marks: dict[int, str]) -> str:
    """A whole chain that was written anew is unlike an end noted earlier."""
    if marks.get(entry.number, entry.hash) != entry.hash:
        return f"entry {entry.number} is not the one that was noted: {_named(entry)}."
    return ""


def _end(walk: Walk, head: AuditHead | None, mark: tuple[int, str] | None) -> str:
    """What is missing at the end, or ""."""
    if head is None:
        return f"the note of where the chain ends is gone; entry {walk.number} is the last." if walk.number else ""
    ends = max(head.number, mark[0] if mark else 0)
    if walk.number < ends:
        return f"entries {walk.number + 1} to {ends} are missing at the end."
    now = AuditHead.objects.filter(pk=1).first()
    if now is None or now.number < walk.number:
        return f"entry {walk.number} stands after the noted end of the chain."
    return ""


def noted(expected: str) -> tuple[int, str] | None:
    """Number and hash of an end noted earlier; None of "". Raises ValueError for another form."""
    if not expected:
        return None
    number, _, digest = expected.strip().partition(":")
    if not NOTED.fullmatch(expected.strip()):
        raise ValueError(
            f"An end is written NUMBER:HASH: the number of an entry, a colon, and 64 characters from 0 to 9 and a to "
            f"f. “{expected[:80]}” is none; copy it whole from where it was noted."
        )
    return int(number), digest.lower()


def _named(entry: Any) -> str:
    return f"{at_the_works(entry.at)} {entry.user_name or 'the register'}, {entry.act} {entry.subject}".rstrip()
