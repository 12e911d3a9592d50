"""A limit set as it is shown: every limit with what the rest of the set leaves of it, so that no line is read as wider.

All limits of a set hold together. A reader takes a line by itself: "PA, PB, PC, where the pipe is rotated" beside
"PA, PF, where the weld is no fillet" seems to allow PC, and where only butt welds are covered the second condition says
nothing. What is shown answers every fully stated demand as the set does; the checker is given the set itself.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from codes.limits import Limit, Nothing, OneOf, When

OTHER = ""
"""Stands for every term that no limit names."""
Left = Mapping[str, frozenset[str]]
"""Variable to the terms that the set leaves of it, whatever else is stated; absent where it may be anything."""


def plainly(limits: Sequence[Limit]) -> tuple[Limit, ...]:
    """Without conditions that the set itself always meets and limits that never count; a conditional limit is narrowed
    to what holds unconditionally. Example: beside "PA, PF", "PA to PD, where rotated" becomes "PA, where rotated".
    """
    found = tuple(limits)
    while (simpler := _once(found)) != found:
        found = simpler
    return found


def in_short(limits: Sequence[Limit]) -> tuple[Limit, ...]:
    """As `plainly`, but all terms that are allowed unconditionally are one limit, the first of its variable."""
    found = plainly(limits)
    left, first = _left(found), {limit.variable: at for at, limit in reversed(list(enumerate(found)))}
    merged: dict[str, Limit] = {}
    for limit in found:
        if _always_one_of(limit) and limit.variable in left:
            merged.setdefault(limit.variable, _of(limit, left[limit.variable]))
    rest = [limit for limit in found if not (limit.variable in merged and _always_one_of(limit))]
    return tuple(sorted((*merged.values(), *rest), key=lambda one: (first[one.variable], bool(one.when))))


def _always_one_of(limit: Limit) -> bool:
    return not limit.when and not limit.needs and isinstance(limit.allowed, OneOf)


def _once(limits: tuple[Limit, ...]) -> tuple[Limit, ...]:
    left, out = _left(limits), [limit for limit in limits if limit.ruled_out]
    counting = (one for one in limits if not any(_is_met(when, left, False) for when in _of_others(one)))
    return tuple(_narrowed(_without(limit, out), left) for limit in counting)


def _without(limit: Limit, out: Sequence[Limit]) -> Limit:
    """Without the terms that another line rules out by name."""
    if limit.ruled_out or limit.needs or not isinstance(limit.allowed, OneOf):
        return limit
    ruled = [when for one in out if one.variable == limit.variable for when in one.when]
    return _of(limit, frozenset(term for term in limit.allowed.terms if not any(when.met_by(term) for when in ruled)))


def _of_others(limit: Limit) -> list[When]:
    return [when for when in limit.when if when.variable != limit.variable]


def _narrowed(limit: Limit, left: Left) -> Limit:
    if limit.ruled_out:
        return limit
    asked = [one for one in limit.when if not _is_met(one, left, True)]
    # What it asks of its own variable stays: what is left of that may follow from this very limit.
    when = tuple(one if one.variable == limit.variable else _asking(one, left) for one in asked)
    known = left.get(limit.variable)
    if when and known is not None and isinstance(limit.allowed, OneOf):
        return _of(replace(limit, when=when), known)
    return replace(limit, when=when)


def _asking(when: When, left: Left) -> When:
    """A condition that names only what is left of its terms."""
    known = left.get(when.variable)
    if known is None or not isinstance(when.allowed, OneOf):
        return when
    return replace(when, allowed=OneOf(tuple(term for term in when.allowed.terms if term in known)))


def _of(limit: Limit, known: frozenset[str]) -> Limit:
    """What is known of it, in the order in which the limit names its terms."""
    terms = limit.allowed.terms if isinstance(limit.allowed, OneOf) else ()
    kept = tuple(term for term in terms if term in known)
    return limit if kept == terms else replace(limit, allowed=OneOf(kept) if kept else Nothing())


def _is_met(when: When, left: Left, answer: bool) -> bool:
    """True where every term that is left gives the condition that answer."""
    known = left.get(when.variable)
    return bool(known) and all(when.met_by(term) is answer for term in known or ())


def _left(limits: Sequence[Limit]) -> Left:
    own: dict[str, list[Limit]] = {}
    for limit in limits:
        if not limit.needs and not _of_others(limit) and isinstance(limit.allowed, OneOf | Nothing):
            own.setdefault(limit.variable, []).append(limit)
    found = {name: frozenset(_surviving(held)) for name, held in own.items()}
    return {name: terms for name, terms in found.items() if OTHER not in terms}


def _surviving(limits: Sequence[Limit]) -> list[str]:
    sets = [limit.allowed for limit in limits] + [when.allowed for limit in limits for when in limit.when]
    named = dict.fromkeys(term for one in sets if isinstance(one, OneOf) for term in one.terms)
    return [term for term in (*named, OTHER) if all(_admits(limit, term) for limit in limits)]


def _admits(limit: Limit, term: str) -> bool:
    return limit.allowed.admits(term) or not all(when.met_by(term) for when in limit.when)
