"""An empty list to fill in: the headings that are read best, and one row as an example."""

import csv
import io

from joints.imports.columns import LENGTHS, TITLES

BOTH_WAYS = ("grade_both", "t_both", "element_pitch")
"""Columns that say the same as others; the list we write has one way of saying it."""
COLUMNS = tuple(name for name in TITLES if name not in BOTH_WAYS)
EXAMPLE = {
    "assembly": "B12", "number": "1", "weld_type": "fillet", "joint_type": "tee", "product": "plate",
    "grade_1": "S355J2+N", "grade_2": "S355J2+N", "t1_mm": "12", "t2_mm": "20", "throat_mm": "5", "length_mm": "310",
    "position": "PB", "final_process": "135", "tack_process": "135", "tack_length_mm": "50", "tack_throat_mm": "3",
    "weld_date": "2026-12-01", "remarks": "example row: delete it",
}  # fmt: skip


def headings() -> tuple[str, ...]:
    """The headings of the list, with their units. Example: "Thickness 1 [mm]"."""
    units = dict.fromkeys(LENGTHS, " [mm]") | {"branch_angle_deg": " [°]"}
    return tuple(f"{TITLES[name]}{units.get(name, '')}" for name in COLUMNS)


def template_csv() -> bytes:
    """The template as CSV in UTF-8 with a mark, so that spreadsheets read it as such."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=";").writerows([headings(), [EXAMPLE.get(name, "") for name in COLUMNS]])
    return out.getvalue().encode("utf-8-sig")
