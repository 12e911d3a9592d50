"""From the boxes of two parts and the run of a weld: thicknesses, the kind of joint, and which way the weld faces.

Nothing is guessed: where the boxes allow two answers, or none, it is left open.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from joints.model_files.reader.parts import Part
from joints.model_files.reader.paths import Path
from joints.model_files.reader.shapes import Box, Vector
from joints.model_files.reader.units import plain_mm

SLACK = 3.0
"""Millimetres by which a weld line may lie off the face it is on."""
ALONG, SAME, ACROSS = 0.7, 0.99, 0.3
"""Cosines: what counts as along the weld, as the same direction, and as at right angles."""


@dataclass(slots=True)
class Met:
    """What a weld meets: the thickness of each part, the kind of joint, its face, and what to mind."""

    thickness: list[float | None] = field(default_factory=list)
    joint_type: str = ""
    face: Vector | None = None
    part_length: float | None = None
    notes: list[str] = field(default_factory=list)


def meet(parts: Sequence[Part], path: Path | None, is_fillet: bool) -> Met:
    """What a weld along `path` meets of its parts."""
    met = Met()
    points = [] if path is None else [path.points[0], path.points[-1], path.middle]
    touched = [_touched(part, points) for part in parts]
    for part, boxes in zip(parts, touched, strict=True):
        met.thickness.append(_thickness(part, boxes, met))
    axis = path.direction if path is not None else None
    if axis is None or len(parts) != 2:
        return met
    met.part_length = _shorter(parts, axis)
    middle = [next((b for b in boxes if b.holds(path.middle, SLACK)), None) for boxes in touched]
    if middle[0] is not None and middle[1] is not None:
        _faces(met, (middle[0], middle[1]), path.middle, axis, is_fillet)
    return met


def _touched(part: Part, points: Sequence[Vector]) -> list[Box]:
    return [box for box in part.shape.boxes if any(box.holds(point, SLACK) for point in points)]


def _thickness(part: Part, touched: Sequence[Box], met: Met) -> float | None:
    """The thickness of the part at the weld: of the leaf that it is on, else the only one there is."""
    found = {round(box.thickness, 3) for box in touched}
    if len(found) == 1:
        return found.pop()
    if part.shape.thickness is not None:
        return part.shape.thickness
    every = sorted({round(box.thickness, 3) for box in part.shape.boxes})
    if every:
        named = " or ".join(f"{plain_mm(one)} mm" for one in every)
        met.notes.append(f"{part.name} is {named} thick where it may be welded")
    else:
        met.notes.append(f"the model gives no thickness of {part.name} that can be read")
    return None


def _shorter(parts: Sequence[Part], axis: Vector) -> float | None:
    """The extent of the shorter part along the weld."""
    extents = []
    for part in parts:
        corners = [corner @ axis for box in part.shape.boxes for corner in box.corners()]
        if not corners:
            return None
        extents.append(float(max(corners) - min(corners)))
    return min(extents)


def _faces(met: Met, boxes: tuple[Box, Box], point: Vector, axis: Vector, is_fillet: bool) -> None:
    sides = [[n for n in box.normals(point, SLACK) if abs(n @ axis) < ALONG] for box in boxes]
    parallel = abs(boxes[0].thin_direction() @ boxes[1].thin_direction()) > SAME
    if parallel:
        met.joint_type = "lap" if is_fillet else "butt"
    elif abs(boxes[0].thin_direction() @ boxes[1].thin_direction()) < ACROSS:
        met.joint_type = "corner" if all(len(side) > 1 for side in sides) else "tee"
    met.face = _common(*sides) if parallel and not is_fillet else _between(boxes, sides, point)


def _common(first: Sequence[Vector], second: Sequence[Vector]) -> Vector | None:
    """The face that both plates of a butt weld share, where there is just one."""
    found = [one for one in first if any(one @ other > SAME for other in second)]
    return found[0] if len(found) == 1 else None


def _between(boxes: tuple[Box, Box], sides: Sequence[Sequence[Vector]], point: Vector) -> Vector | None:
    """Half-way between two faces that stand open to each other, where just one pair does."""
    found = []
    for one in sides[0]:
        for other in sides[1]:
            open_to = point + (one + other) * 2 * SLACK
            if abs(one @ other) < ACROSS and not any(box.holds(open_to, 0.0) for box in boxes):
                found.append((one + other) / np.linalg.norm(one + other))
    return found[0] if len(found) == 1 else None
