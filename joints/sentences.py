"""The answer in one sentence, first of all on every page; the same for one joint and in bulk."""

from collections.abc import Collection, Sequence
from datetime import date
from typing import Protocol

from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, ProcedureAnswer, count, final_is_told, refusal

VERB = {"tack": "tack", "final": "weld"}
WORDS = {Outcome.OUTSIDE: "Outside", Outcome.NOT_STATED: "Not stated"}


class Phase(Protocol):
    """What a sentence needs to know of a phase."""

    @property
    def outcome(self) -> Outcome:
        """The answer."""

    @property
    def sentence(self) -> str:
        """The answer of the phase in words."""

    @property
    def labels(self) -> tuple[str, ...]:
        """The procedures that cover it."""

    @property
    def person_ids(self) -> frozenset[int]:
        """The people who may weld it."""


def phase_sentence(
    phase: str,
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Verdict | None,
    on: date,
    code: str = "",
    notes: Sequence[str] = (),
) -> str:
    """The answer to one phase. Example: "Covered by WPS 014 rev C; 3 people may weld it on 2026-11-25.".

    `code`: what the job asks of procedures, "" where it names none. `notes`: why the steels are not known.
    """
    said = [_procedure_part(phase, procedures, on, code, notes)]
    if place is not None and place.outcome is not Outcome.COVERED:
        said.append((place.outcome, _refused(place, f"{place.label} allows")))
    if not people:
        said.append(_nobody(phase, procedures, miss, on))
    outcome, sentence = min(said, key=lambda part: part[0].rank)
    if outcome is not Outcome.COVERED:
        return sentence
    return covered_sentence(phase, _labels(procedures), {answer.person_id for answer in people}, on)


def covered_sentence(phase: str, labels: Sequence[str], people: Collection[int], on: date) -> str:
    """The sentence of a phase that is covered."""
    return f"Covered by {covering_words(labels)}; {people_words(phase, people)} on {on}."


def _labels(procedures: Sequence[ProcedureAnswer]) -> list[str]:
    return [p.label for p in procedures if p.outcome is Outcome.COVERED]


def _procedure_part(
    phase: str, procedures: Sequence[ProcedureAnswer], on: date, code: str, notes: Sequence[str]
) -> tuple[Outcome, str]:
    if not procedures:
        what = f"procedure to {code}" if code else "procedure"
        return Outcome.OUTSIDE, f"Outside: no {what} approved on {on} serves {phase} welding."
    first = procedures[0]
    if first.outcome is Outcome.COVERED:
        return Outcome.COVERED, ""
    return first.outcome, _refused(first.verdict, first.allows, notes)


def joint_sentence(tack: Phase, final: Phase, on: date) -> str:
    """The answer to the joint: of two phases that are not covered, the worse one, the final weld first of equals."""
    if tack.outcome is final.outcome is Outcome.COVERED:
        if tack.labels[0] == final.labels[0] and tack.person_ids == final.person_ids:
            return final.sentence
        return (
            f"Covered by {covering_words(final.labels)}, tacks by {covering_words(tack.labels)}; "
            f"{people_words('final', final.person_ids)} and {people_words('tack', tack.person_ids)} on {on}."
        )
    return final.sentence if final_is_told(tack.outcome, final.outcome) else of_tacks(tack.sentence)


def of_tacks(sentence: str) -> str:
    """What is wrong with the tacks, said beside the final weld. Example: "Outside for the tacks: position PD"."""
    word, _, rest = sentence.partition(": ")
    return f"{word} for the tacks: {rest}"


def covering_words(labels: Sequence[str]) -> str:
    """The first procedure that covers, and how many more."""
    return f"{labels[0]}{f' and {len(labels) - 1} more' if len(labels) > 1 else ''}"


def people_words(phase: str, people: Collection[int]) -> str:
    """How many people may do it. Example: "3 people may weld it"."""
    return f"{count(len(people), 'person', 'people')} may {VERB[phase]} it"


def _refused(verdict: Verdict, allows: str, notes: Sequence[str] = ()) -> str:
    word = WORDS[verdict.outcome]
    if not verdict.worst:
        return f"{word}: {verdict.label} states no range that counts for this joint."
    first = verdict.worst[0]
    # The window and a record that refuse the same variable are one point to whoever reads it.
    rest = len({finding.variable for finding in verdict.worst} - {first.variable})
    more = f"; and {count(rest, 'more point', 'more points')}" if rest else ""
    # A grade that is stated and not known is no missing entry: the note says which; the nearest ones stand below it.
    is_known = first.variable != "steels" or first.wanted or not notes
    return f"{word}: {refusal(first, allows) if is_known else notes[0].partition('; ')[0]}{more}."


def _they_cover(labels: Sequence[str]) -> str:
    """Example: "the procedure WPS 012 rev A covers it", "the procedures WPS 012 rev A and 2 more cover it"."""
    if len(labels) == 1:
        return f"the procedure {labels[0]} covers it"
    return f"the procedures {covering_words(labels)} cover it"


def _nobody(
    phase: str, procedures: Sequence[ProcedureAnswer], miss: CertificateAnswer | None, on: date
) -> tuple[Outcome, str]:
    """Nobody, and what keeps the nearest certificate from it."""
    outcome = miss.outcome if miss is not None else Outcome.OUTSIDE
    head = f"nobody may {VERB[phase]} it on {on}"
    if labels := _labels(procedures):
        # The worst first: that a procedure covers it is no comfort where nobody may weld to it.
        head = f"{head}; {_they_cover(labels)}"
    if miss is None:
        return outcome, f"{WORDS[outcome]}: {head}: no certificate of the right kind is on file."
    if outcome is Outcome.COVERED:
        # Each process is covered by somebody, but no one person covers them all.
        return Outcome.OUTSIDE, f"Outside: {head}: no one person is qualified for all its processes."
    return outcome, f"{WORDS[outcome]}: {head}; nearest {miss.label}: {refusal(miss.verdict.worst[0], 'allows')}."
