"""The weld map of a beam: elevation and section with numbered welds, and a line for each weld.

Drawn from the geometry that a turning plan is made from; a weld whose geometry is not stated stands in the list only.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.utils.safestring import mark_safe

from codes.position_names import position_of
from codes.terms import term
from codes.units import System, figure_in, unit_in
from codes.values import number
from codes.verdict import Outcome
from joints.answers import PhaseAnswer, count
from joints.models import Assembly, AssemblyGeometry, Joint
from joints.papers.map_drawing import Mapped, elevation
from joints.papers.map_facts import Asked, asked_of, map_facts
from joints.papers.map_section import Place, numbered_section
from joints.papers.stated import on_both_sides
from joints.turning.drawing import in_section
from register.languages import in_own_language
from register.papers.kinds import Kind, register
from register.papers.names import plain
from register.papers.printing import Draft

STRAIGHT = 0.05
"""Parts of a direction below this are the rounding of a direction, not a slope."""

TRAVEL = {"PF": " up", "PG": " down"}
NO_PROCEDURE = {Outcome.OUTSIDE: "none: the weld is outside", Outcome.NOT_STATED: "none: not all is stated"}
"""In the column of the procedure, where a weld has none."""


@dataclass(frozen=True, slots=True)
class Row:
    """One weld in the list. `drawn`: it stands in the elevation; figures in the reader's units, "" not stated."""

    number: str
    weld: str
    parts: str
    length: str
    along: str
    side: str
    position: str
    procedure: str
    drawn: bool


@dataclass(frozen=True, slots=True)
class WeldMap:
    """The map: drawings as SVG, "" where the geometry does not say enough."""

    elevation: str
    section: str
    rows: tuple[Row, ...]
    problem: str

    @property
    def has_places(self) -> bool:
        """Whether any weld says where it lies."""
        return any(row.along or row.side for row in self.rows)

    @property
    def sentence(self) -> str:
        """The answer first."""
        drawn = sum(row.drawn for row in self.rows)
        if not self.elevation:
            return f"{count(len(self.rows), 'weld', 'welds')}, none drawn: {self.problem}"
        rest = len(self.rows) - drawn
        if not rest:
            return f"{count(drawn, 'weld', 'welds')} on the drawing."
        lies = "where it lies" if rest == 1 else "where they lie"
        return f"{count(drawn, 'weld', 'welds')} on the drawing; {rest} in the list only: {lies} is not stated."


def weld_map(assembly: Assembly, on: date, system: System) -> WeldMap:
    """The map of an assembly; procedures as of the day."""
    return drawn_map(asked_of(assembly, on), system)


def drawn_map(asked: Asked, system: System) -> WeldMap:
    """What was answered, in words and drawings."""
    joints, geometry = asked.joints, asked.geometry
    mapped = {joint.pk: one for joint in joints if (one := _mapped(joint, geometry)) is not None}
    problem = _problem(geometry)
    rows = tuple(_row(joint, asked, joint.pk in mapped and not problem, system) for joint in joints)
    section = _section(joints, geometry)
    if problem or not mapped or geometry is None:
        return WeldMap("", section, rows, problem or "where they lie along the beam is not stated.")
    drawn = elevation(geometry.length_mm, geometry.depth_mm, geometry.flange_mm, list(mapped.values()), system)
    return WeldMap(mark_safe(drawn), section, rows, "")


def _problem(geometry: AssemblyGeometry | None) -> str:
    if geometry is None:
        return "the axis and the section of the assembly are not stated."
    if not geometry.length_mm or not geometry.depth_mm:
        return "the length or the depth of the assembly is not stated."
    return ""


def _mapped(joint: Joint, geometry: AssemblyGeometry | None) -> Mapped | None:
    """The weld in the elevation, where its geometry says enough."""
    own = getattr(joint, "geometry", None)
    if own is None or geometry is None or own.along_mm is None or own.up_mm is None:
        return None
    length = float(joint.length_mm or 0)
    along, upwards = _directions(own.axis, geometry)
    return Mapped(
        joint.number, float(own.along_mm), float(own.up_mm), length * along, length * upwards, (own.across_mm or 0) > 0
    )


def _directions(axis: Sequence[Decimal], geometry: AssemblyGeometry) -> tuple[float, float]:
    """How much of the weld's axis runs along the beam and how much upwards in its section."""
    weld, beam = [float(part) for part in axis], [float(part) for part in geometry.beam]
    size, whole = sum(p * p for p in weld) ** 0.5 or 1.0, sum(p * p for p in beam) ** 0.5 or 1.0
    along = abs(sum(a * b for a, b in zip(weld, beam, strict=True))) / (size * whole)
    upwards = abs(in_section(tuple(axis), geometry.beam)[1]) / size  # type: ignore[arg-type]
    return (along if along > STRAIGHT else 0.0), (upwards if upwards > STRAIGHT else 0.0)


def _section(joints: Sequence[Joint], geometry: AssemblyGeometry | None) -> str:
    if geometry is None or not geometry.section:
        return ""
    places: dict[tuple[Decimal, Decimal], list[str]] = {}
    for joint in joints:
        own = getattr(joint, "geometry", None)
        if own is not None and own.across_mm is not None and own.up_mm is not None:
            places.setdefault((own.across_mm, own.up_mm), []).append(joint.number)
    spots = [Place(float(at[0]), float(at[1]), tuple(names)) for at, names in places.items()]
    return mark_safe(numbered_section(geometry, spots)) if spots else ""


def _procedure(answer: PhaseAnswer) -> str:
    if not answer.covering:
        return NO_PROCEDURE[answer.outcome]
    return answer.covering[0].label + (f" and {len(answer.covering) - 1} more" if len(answer.covering) > 1 else "")


def _row(joint: Joint, asked: Asked, drawn: bool, system: System) -> Row:
    own, unit = getattr(joint, "geometry", None), unit_in("mm", system)
    thick = [figure_in(t, "mm", system) for t in (joint.t1_mm, joint.t2_mm) if t is not None]
    sizes = [("a", joint.throat_mm), ("z", joint.leg_mm), ("s", joint.penetration_mm)]
    size = " ".join(f"{mark} {figure_in(value, 'mm', system)}" for mark, value in sizes if value is not None)
    weld = term("weld_type", joint.weld_type).words if joint.weld_type else "not stated"
    lies = asked.lies[joint.pk]
    across = own.across_mm if own is not None else None
    return Row(
        number=joint.number,
        weld=" ".join(filter(None, (f"{weld} {size} {unit}" if size else weld, on_both_sides(joint)))),
        parts=f"{' + '.join(thick)} {unit}" if thick else "",
        length=f"{figure_in(joint.length_mm, 'mm', system)} {unit}" if joint.length_mm else "",
        along=f"{figure_in(own.along_mm, 'mm', system)} {unit}" if own is not None and own.along_mm is not None else "",
        side="" if across is None else "middle" if across == 0 else "far" if across > 0 else "near",
        position=_lies(lies)
        if lies is not None
        else position_of(joint.position, joint.weld_type)
        if joint.position
        else "",
        procedure=_procedure(asked.finals[joint.pk]),
        drawn=drawn,
    )


def _lies(lies: Any) -> str:
    """Where the weld lies at turn 0, by both systems; AWS says up or down beside the number. Example: "PF · 3F up"."""
    return f"{lies.iso} · {lies.aws_test}{TRAVEL.get(lies.iso, '')}" if lies.aws_test else str(lies.iso)


@in_own_language
def content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What a map states, in SI figures."""
    assembly = Assembly.objects.select_related("job", "geometry").filter(pk=subject_id).first()
    return None if assembly is None else content_of(assembly, weld_map(assembly, on, System.SI))


def facts(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    assembly = Assembly.objects.select_related("job", "geometry").filter(pk=subject_id).first()
    return None if assembly is None else map_facts(asked_of(assembly, on))


def content_of(assembly: Assembly, found: WeldMap) -> dict[str, Any]:
    """As JSON values: the list, and the places that the drawings are made from."""
    geometry = getattr(assembly, "geometry", None)
    sizes = ("section", "depth_mm", "width_mm", "web_mm", "flange_mm", "length_mm")
    stated = {name: _plain(getattr(geometry, name)) for name in sizes} if geometry is not None else {}
    rows = [{name: getattr(row, name) for name in Row.__dataclass_fields__} for row in found.rows]
    return {"job": str(assembly.job), "assembly": str(assembly), "geometry": stated, "welds": rows}


def _plain(value: Any) -> str:
    return number(value) if isinstance(value, Decimal) else str(value or "")


KIND = register(Kind("weld-map", "weld map", content, facts))


@in_own_language
def draft(assembly: Assembly, on: date, system: System) -> Draft:
    """The map before it is printed: across a sheet."""
    asked = asked_of(assembly, on)
    found = drawn_map(asked, System.SI)

    def context() -> dict[str, Any]:
        return {
            "what": "Weld map",
            "lead": f"{assembly.job}: {assembly.job.title} · {assembly.title}",
            "map": found if system is System.SI else drawn_map(asked, system),
        }

    stem = plain("weld-map", assembly.job.number, assembly.mark)
    template = "joints/papers/weld_map_sheet.html"
    return Draft(
        KIND, assembly, f"{assembly}, weld map", stem, on, content_of(assembly, found), template, context,
        sizes=("8pt", "7.4pt", "6.9pt", "6.5pt"), landscape=True, facts=map_facts(asked),
    )  # fmt: skip
