"""Which numbers of the trail are not in sight: acts at works that whoever reads does not see, or of the whole firm."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from django.utils.translation import gettext

from register.plants.reach import whole
from register.trail.models import AuditEntry, AuditHead

MOST = 8
"""Stretches that are named one by one, from the highest down."""
Stretch = tuple[int, int]


def not_in_sight(shown: Iterable[int]) -> str:
    """What to say of the numbers that are left out between those of a page and below them; "" where none is.

    Example: "Numbers 12 to 15 and 20 are not shown: they are acts at works that you do not see, or of the whole firm."
    """
    numbers = sorted(shown)
    if not numbers:
        return ""
    found = list(stretches([_below(numbers[0]), *numbers, _above(numbers[-1])]))
    if not found:
        return ""
    held = sum(last - first + 1 for first, last in found)
    said = {"numbers": in_words(found)}
    if held > _elsewhere(found[0][0], found[-1][1]):
        return gettext("Not shown: %(numbers)s. Not all of these are on file; see whether the trail is whole.") % said
    if held == 1:
        return gettext("Number %(numbers)s is not shown: an act at works that you do not see, or of the firm.") % said
    return gettext("Numbers %(numbers)s are not shown: acts at works that you do not see, or of the firm.") % said


def stretches(numbers: Sequence[int]) -> Iterator[Stretch]:
    """First and last of what is left out between ascending numbers. Example: 11, 16, 17, 19 gives 12 to 15 and 18."""
    for before, number in pairwise(numbers):
        if number > before + 1:
            yield before + 1, number - 1


def in_words(found: Sequence[Stretch]) -> str:
    """Example: "12 to 15 and 20"; of many the highest, and how many more numbers there are."""
    named, rest = found[-MOST:], sum(last - first + 1 for first, last in found[:-MOST])
    said = [gettext("%(first)s to %(last)s") % {"first": a, "last": b} if a < b else str(a) for a, b in named]
    if rest:
        said.append(gettext("%(number)s lower ones") % {"number": f"{rest:,}"})
    if len(said) == 1:
        return said[0]
    return gettext("%(several)s and %(last)s") % {"several": ", ".join(said[:-1]), "last": said[-1]}


def _below(number: int) -> int:
    """The next lower number in sight, or 0."""
    rows = AuditEntry.objects.filter(number__lt=number).order_by("-number")
    return rows.values_list("number", flat=True).first() or 0


def _above(number: int) -> int:
    """One above the number, or above the end of the trail where nothing higher is in sight."""
    if AuditEntry.objects.filter(number__gt=number).exists():
        return number + 1
    return max(AuditHead.objects.values_list("number", flat=True).first() or 0, number) + 1


def _elsewhere(first: int, last: int) -> int:
    """How many entries from one number to another are on file and not in sight."""
    between = {"number__gte": first, "number__lte": last}
    here = AuditEntry.objects.filter(**between).count()
    with whole():
        return AuditEntry.objects.filter(**between).count() - here
