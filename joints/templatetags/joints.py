"""Words of joints for the templates."""

from collections.abc import Iterable

from django import template

from codes.position_names import position_of
from codes.terms import both_names
from codes.units import System, amount_in
from codes.verdict import Finding, Outcome
from codes.words import value_words
from joints.bulk import PhaseResult
from joints.margins import Room
from joints.models import Joint
from joints.sentences import covering_words
from joints.tables import stated_size, thicknesses
from register.judged_words import told
from register.templatetags.register_base import without_word

register = template.Library()


@register.simple_tag
def sentence_rest(outcome: object, sentence: str) -> str:
    """A sentence without its first word, which the tag `answer` prints with the shape just before it."""
    return without_word(outcome, sentence)


@register.filter
def weld_words(joint: Joint, system: System = System.SI) -> str:
    """Type, size, position and process. Example: "fillet weld a 5 mm, PB · 2F, 135 · GMAW"."""
    parts = [
        _type_and_size(joint, system),
        position_of(joint.position, joint.weld_type) if joint.position else "",
        " + ".join(both_names("process", part) for part in joint.final_process.split("+"))
        if joint.final_process
        else "",
    ]
    return told(", ".join(part for part in parts if part))


def _type_and_size(joint: Joint, system: System) -> str:
    letter, size = stated_size(joint)
    said = value_words("weld_type", joint.weld_type) if joint.weld_type else "weld type not stated"
    return f"{said} {letter} {amount_in(size, 'mm', system)}" if size else said


@register.filter
def failing(findings: Iterable[Finding]) -> list[Finding]:
    """The findings that keep a demand from being covered."""
    return [one for one in findings if one.outcome is not Outcome.COVERED]


@register.filter
def fitting(findings: Iterable[Finding]) -> list[Finding]:
    """The findings that are covered."""
    return [one for one in findings if one.outcome is Outcome.COVERED]


@register.filter
def parts(joint: Joint, system: System = System.SI) -> str:
    """Both thicknesses, in mm or in."""
    return thicknesses(joint, system)


@register.filter
def phase_words(result: PhaseResult) -> str:
    """The covering procedures, or the sentence of what is wrong."""
    if result.outcome is Outcome.COVERED:
        return covering_words(result.labels)
    return result.sentence


@register.filter
def as_sentence(text: str) -> str:
    """A reason with a capital and a full stop, whatever it came with."""
    said = text.strip()
    return said[:1].upper() + said[1:] + ("" if said.endswith((".", "?", "!")) else ".")


@register.filter
def after_name(label: str, name: str) -> str:
    """A certificate's label without the name of its person, which stands before it already."""
    return label.removeprefix(f"{name}, ")


@register.filter
def for_reader(room: Room | None, system: object) -> Room | None:
    """The least margin in the reader's units."""
    return room.for_reader(system) if room is not None and isinstance(system, System) else room
