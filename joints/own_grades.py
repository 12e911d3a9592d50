"""Which joints name a steel grade of the firm."""

from django.db.models import Q

from joints.models import Joint
from register.held.models import FirmGrade


def joints_in(name: str) -> str:
    """The joints in sight whose parts are in a grade, in words ("3 joints"), or "". However it is spelled there."""
    parts = [Joint.objects.order_by().values_list(part, flat=True).distinct() for part in ("grade_1", "grade_2")]
    written = {grade for part in parts for grade in part}
    key = FirmGrade.key_of(name)
    alike = [grade for grade in written if FirmGrade.key_of(grade.partition("+")[0]) == key]
    number = Joint.objects.filter(Q(grade_1__in=alike) | Q(grade_2__in=alike)).count() if alike else 0
    return f"{number:,} joint{'s' if number != 1 else ''}" if number else ""
