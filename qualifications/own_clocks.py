"""The processes of a certificate that have a clock of their own each, and what an act states of them.

AWS D1.1, 6.2.3.1, and ASME IX, QW-322.1(a), count by process: of a certificate of several, whoever signs says for
which. Which of them share a clock the edition's own `periods` is asked, as in `qualifications.clocks`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from codes.readings import DEFAULTS, Settings
from codes.terms import both_names
from codes.validity import Event, Validity, ValidityInput
from qualifications.clocks import PROBE_FACTS, PROBED_ON, Clock, clock_of
from qualifications.models import Certificate, CertificateEvent
from qualifications.periods import edition_of, validity, validity_input

LATER = PROBED_ON.replace(year=PROBED_ON.year + 1)
Pair = tuple[str, str]
"""A process and its transfer mode, "" where none is stated."""


def clocks_of(certificate: Certificate) -> tuple[Pair, ...]:
    """One process for each clock, in the order of the test pieces; none where there is one clock only."""
    if clock_of(certificate) is not Clock.USED:
        return ()
    facts = validity_input(certificate, events=()).facts
    processes, modes = (facts.get(name, "").split(",") for name in ("process", "transfer_mode"))
    modes += [""] * (len(processes) - len(modes))
    found: list[Pair] = []
    for pair in zip(processes, modes, strict=False):
        if pair[0] and all(_apart(certificate.code, pair, known) for known in found):
            found.append(pair)
    return tuple(found) if len(found) > 1 else ()


@cache
def _apart(code: str, first: Pair, second: Pair) -> bool:
    """True where a test made with the first renews nothing of the second."""
    known = edition_of(code)
    if known is None or known.periods is None:
        return False
    test = PROBE_FACTS | {"process": f"{first[0]},{second[0]}", "transfer_mode": f"{first[1]},{second[1]}"}
    renewal = Event(CertificateEvent.Kind.RENEWAL, LATER, details=stated([first]))
    return not known.periods(ValidityInput(PROBED_ON, events=(renewal,), facts=test), DEFAULTS).state(LATER).valid


def lives(certificate: Certificate, extra: tuple[Event, ...] = (), settings: Settings = DEFAULTS) -> list[Validity]:
    """The validity of a certificate, and that by each clock of its own, with further events as if they were on file.

    An act that keeps one process alive, or opens it again, changes nothing of the whole while another has lapsed.
    """
    found = [validity(certificate, settings, extra)]
    known = edition_of(certificate.code)
    if known is None or known.periods is None:
        return found
    # What names no process counts for one by its own, and for none of several.
    naming = tuple(event for event in extra if event.details.get("process"))
    given = validity_input(certificate, naming)
    for process, mode in clocks_of(certificate):
        alone = {**given.facts, "process": process, "transfer_mode": mode}
        found.append(known.periods(replace(given, facts=alone), settings))
    return found


def stated(pairs: Iterable[Pair]) -> dict[str, str]:
    """Processes as the details of an event state them; nothing for none."""
    chosen = list(pairs)
    said = {"process": ",".join(process for process, _ in chosen)} if chosen else {}
    return said | ({"transfer_mode": ",".join(mode for _, mode in chosen)} if any(mode for _, mode in chosen) else {})


def in_words(pair: Pair) -> str:
    """Example: ("135", "dip") is "135 · GMAW, dip transfer" with both names of each."""
    process, mode = pair
    return both_names("process", process) + (f", {both_names('transfer_mode', mode)}" if mode else "")


def said_of(details: Mapping[str, Any]) -> str:
    """The processes that an event states, in words; "" where it states none."""
    processes, modes = (str(details.get(name) or "").split(",") for name in ("process", "transfer_mode"))
    modes += [""] * (len(processes) - len(modes))
    return "; ".join(in_words(pair) for pair in zip(processes, modes, strict=False) if pair[0])


class ProcessesField(forms.MultipleChoiceField):
    """Which processes an act was made with, for a certificate on which each has its own clock."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, pairs: tuple[Pair, ...]) -> None:
        self.pairs = {":".join(pair): pair for pair in pairs}
        super().__init__(
            label=_("Welded with"),
            required=False,
            choices=[(key, in_words(pair)) for key, pair in self.pairs.items()],
            help_text=_("Each process of this certificate lapses by itself: it counts for those that are ticked."),
        )

    def details(self, chosen: Iterable[str]) -> dict[str, str]:
        """What was ticked, as the details of an event."""
        return stated(self.pairs[key] for key in chosen)
