"""An empty list to fill in: the headings that are read best, and one row as an example."""

import csv
import io

ROWS: tuple[tuple[str, str], ...] = (
    ("Assembly", "B12"),
    ("Joint number", "1"),
    ("Weld type", "fillet"),
    ("Joint type", "tee"),
    ("Product", "plate"),
    ("Grade 1", "S355J2+N"),
    ("Grade 2", "S355J2+N"),
    ("Thickness 1 [mm]", "12"),
    ("Thickness 2 [mm]", "20"),
    ("Throat a [mm]", "5"),
    ("Leg z [mm]", ""),
    ("Weld depth [mm]", ""),
    ("Length [mm]", "310"),
    ("Outside diameter [mm]", ""),
    ("Branch angle [°]", ""),
    ("Position", "PB"),
    ("Weld detail", ""),
    ("Root gouging", ""),
    ("Joint preparation", ""),
    ("Process", "135"),
    ("Workstation", ""),
    ("Tack process", "135"),
    ("Tack workstation", ""),
    ("Tack length [mm]", "50"),
    ("Tack throat [mm]", "3"),
    ("Weld date", "2026-12-01"),
    ("Remarks", "example row: delete it"),
)


def template_csv() -> bytes:
    """The template as CSV in UTF-8 with a mark, so that spreadsheets read it as such."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=";").writerows(zip(*ROWS, strict=True))
    return out.getvalue().encode("utf-8-sig")
