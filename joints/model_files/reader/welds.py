"""Which fasteners of a model are welds, and what the model says of one, by our fields. Lengths in mm, as text."""

from typing import Any

from joints.model_files.reader.faces import Met, meet
from joints.model_files.reader.parts import Part, joined, part_of
from joints.model_files.reader.paths import Path, path_of
from joints.model_files.reader.properties import SET, sets_of, type_of, weld_properties
from joints.model_files.reader.seams import BUTT, FILLET, PLUG, seam_of
from joints.model_files.reader.units import plain_mm

NOT_KNOWN = (None, "", "NOTDEFINED", "USERDEFINED")
THOUSANDTH = 0.001


def is_weld(fastener: Any) -> bool:
    """True for a seam: said by the fastener, by its type, or by the property set that only welds carry."""
    kind = type_of(fastener)
    said = fastener.PredefinedType
    if said in NOT_KNOWN and kind is not None:
        said = kind.PredefinedType if kind.PredefinedType not in NOT_KNOWN else said
    if said not in NOT_KNOWN:
        return bool(said == "WELD")
    return any(getattr(one.RelatingPropertyDefinition, "Name", "") == SET for one in sets_of(fastener))


def weld_of(fastener: Any, mm: float) -> tuple[dict[str, str], list[str], Met, Path | None, list[Part]]:
    """Values by field, what to mind, what it meets, its run and its parts."""
    said, notes = weld_properties(fastener, mm), []
    elements, asked = joined(fastener)
    notes += asked
    parts = [part_of(element, mm) for element in elements]
    try:
        path = path_of(fastener, mm)
    except Exception:  # a place that the library cannot follow is no place
        path = None
    kind, preparation, both, more = seam_of(said.get("type_1"), said.get("type_2"))
    met = meet(parts, path, kind == FILLET)
    notes += more + met.notes
    values = _parts(parts, met)
    values |= _kind(kind, preparation, both, said, met, notes)
    values |= _lengths(said, path, notes)
    if said.get("process"):
        values["final_process"] = str(said["process"])
    if met.joint_type:
        values["joint_type"] = met.joint_type
    return values, notes, met, path, parts


def _parts(parts: list[Part], met: Met) -> dict[str, str]:
    """Steel and thickness of both, the product, and the diameter of a hollow one."""
    values: dict[str, str] = {}
    for at, part in enumerate(parts, start=1):
        if part.grade:
            values[f"grade_{at}"] = part.grade
        if (thickness := met.thickness[at - 1]) is not None:
            values[f"t{at}_mm"] = plain_mm(thickness)
    hollow = [part.shape.diameter for part in parts if part.shape.is_hollow and part.shape.diameter]
    if hollow:
        # The one that is welded all around, on a plate or on a larger one.
        values |= {"product": "pipe", "diameter_mm": plain_mm(min(hollow))}
    elif parts and all(part.shape.boxes for part in parts):
        values["product"] = "plate"
    return values


def _kind(kind: str, preparation: str, both: bool, said: dict[str, Any], met: Met, notes: list[str]) -> dict[str, str]:
    """Weld type, preparation and sizes."""
    values: dict[str, str] = {}
    sizes = {name: plain_mm(said[name]) for name in ("throat", "leg", "depth") if said.get(name, 0) > 0}
    if kind == FILLET:
        values["weld_type"] = "fillet"
        values |= {field: sizes[n] for field, n in (("throat_mm", "throat"), ("leg_mm", "leg")) if n in sizes}
        if both:
            values["weld_detail"] = "bs"
            notes.append("welded on both sides, two welds of this size; the model has room for one size")
        if "depth" in sizes:
            notes.append(f"the throat with penetration is {sizes['depth']} mm; only the design throat is taken")
    elif kind == BUTT:
        known = [one for one in met.thickness if one is not None]
        thin = min(known) if len(known) == len(met.thickness) and known else None
        partial = "depth" in sizes and thin is not None and said["depth"] < thin - THOUSANDTH
        values["weld_type"] = "butt_pjp" if partial else "butt_cjp"
        if partial:
            values["penetration_mm"] = sizes["depth"]
        elif "depth" not in sizes:
            notes.append("no depth is stated, which is full penetration (ISO 2553, from memory)")
        elif thin is None:
            notes.append(f"the depth is {sizes['depth']} mm; without both thicknesses it is taken as full penetration")
        if both:
            values["weld_detail"] = "bs"
    elif kind == PLUG:
        values["weld_type"] = "plug"
    if preparation:
        values["preparation"] = preparation
    return values


def _lengths(said: dict[str, Any], path: Path | None, notes: list[str]) -> dict[str, str]:
    """The length of the run, and of an intermittent one the elements and the clear gap."""
    values: dict[str, str] = {}
    element, number = said.get("element_length"), int(said.get("elements") or 1)
    if said.get("intermittent") is not None and (said["intermittent"] or element):
        values["intermittent"] = "yes" if said["intermittent"] else "no"
    if path is not None:
        values["length_mm"] = plain_mm(path.length)
    if said.get("intermittent") and element:
        values["element_length_mm"] = plain_mm(element)
        _gap(values, said, element, notes)
    elif element:
        stated = element * number
        if path is not None and abs(stated - path.length) > 1:
            notes.append(f"its path is {plain_mm(path.length)} mm long, {plain_mm(stated)} mm are stated and taken")
        values["length_mm"] = plain_mm(stated)
    return values


def _gap(values: dict[str, str], said: dict[str, Any], element: float, notes: list[str]) -> None:
    spacing = said.get("spacing")
    if spacing is None:
        return
    if said.get("pitch_is_sure") and spacing > element:
        values["element_gap_mm"] = plain_mm(spacing - element)
    elif spacing <= element:
        values["element_gap_mm"] = plain_mm(spacing)
    else:
        notes.append(
            f"a spacing of {plain_mm(spacing)} mm may be the clear gap or centre to centre "
            f"(a gap of {plain_mm(spacing - element)} mm): ask"
        )
