"""Sketches of joints, to scale, as SVG: the preparation with its dimensions, and the sequence of runs.

Pure functions without Django. A `Preparation` is read from what a procedure states (`parse_preparation`), drawn by
`preparation_sketch` and `sequence_sketch`. Coordinates are floats: they only place ink, no limit is judged by them.
"""

from wps.sketch.drawings import preparation_sketch, sequence_sketch
from wps.sketch.parse import SketchError, parse_preparation
from wps.sketch.preparation import Arrangement, Preparation, Size
from wps.sketch.runs import Bead, beads_of

__all__ = [
    "Arrangement",
    "Bead",
    "Preparation",
    "Size",
    "SketchError",
    "beads_of",
    "parse_preparation",
    "preparation_sketch",
    "sequence_sketch",
]
