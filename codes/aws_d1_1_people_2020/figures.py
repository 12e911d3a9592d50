"""AWS D1.1:2020: the sizes that its tables of people turn on, in inches and in millimetres (two sets)."""

from codes.aws_d1_1_people_2020.switches import PJP_THICKNESS
from codes.readings import Settings
from codes.unit_sets import twin

THINNEST = twin("0.125", "3")
# A pipe from this size on is welded like plate.
LARGE_PIPE = twin("24", "600")
IN_3_16, IN_3_8, IN_1_2, IN_3_4 = twin("0.1875", "5"), twin("0.375", "10"), twin("0.5", "12"), twin("0.75", "20")
IN_1, IN_1_1_2 = twin("1", "25"), twin("1.5", "38")


def bound_types(settings: Settings) -> tuple[str, ...]:
    """The weld types that the thickness limit binds."""
    return ("butt_cjp", "branch", *(("butt_pjp",) if PJP_THICKNESS.option(settings) == "groove" else ()))
