"""The weeks ahead of a job: the page, and every joint with the days on which its answer changes as a file."""

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.utils.translation import gettext

from joints.ahead.forecast import Forecast, forecast
from joints.ahead.holders import Held, held_joints
from joints.ahead.one_person import Hanging, hanging
from joints.ahead.withdrawn import counted, welded_to_withdrawn
from joints.models import Job
from joints.ready import day_of
from register.base import exports
from register.base.views import DetailPage
from register.judged_words import told_within
from register.roles import Capability

HEADS = ("Assembly/joint", "Covered on the day", "Loses cover on", "Covered again from", "Hangs on")
SHOWN = 40
"""Joints named under one day or person of the page; the file names all."""


class JobAhead(DetailPage):
    """When the joints of a job lose or gain somebody, whom they hang on, and what a withdrawal touches."""

    required_capability = Capability.VIEW
    template_name = "joints/ahead/page.html"
    queryset = Job.objects.all()

    def get_page_title(self) -> str:
        return gettext("The weeks ahead of %(object)s") % {"object": told_within(str(self.object))}

    def get_lead(self) -> str:
        return self.object.title

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        wanted = request.GET.get("export", "")
        if wanted not in ("", "csv", "xlsx"):
            raise BadRequest(
                gettext("This forecast can be taken away as csv or xlsx, not as “%(wanted)s”.")
                % {"wanted": wanted[:20]}
            )
        today = day_of(self.on).at(self.object.plant_id)
        joints = list(held_joints(self.object, today))
        found, alone = forecast(self.object, today), hanging(joints, today)
        if not wanted:
            return self.render_to_response(self.get_context_data(forecast=found, alone=alone))
        make = exports.csv_response if wanted == "csv" else exports.xlsx_response
        try:
            return make(ahead_rows(joints, found, alone), f"weeks-ahead-{self.object.pk}-{self.on.isoformat()}")
        except ValueError as refusal:
            raise BadRequest(gettext("This list is too long: %(refusal)s.") % {"refusal": refusal}) from refusal

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        found: Forecast = kwargs["forecast"]
        alone: tuple[Hanging, ...] = kwargs["alone"]
        withdrawn = welded_to_withdrawn(self.object, self.on)
        return super().get_context_data(
            changes=[(one, _first(one.lost), _first(one.gained)) for one in found.changes],
            people=[(one, *_first(one.joints)) for one in alone],
            withdrawn=withdrawn,
            withdrawn_sentence=counted(withdrawn),
            export_urls=[("CSV", "?export=csv"), ("XLSX", "?export=xlsx")],
            **kwargs,
        )


def _first(joints: Sequence[Held]) -> tuple[Sequence[Held], int]:
    """Those that the page names, and how many more there are."""
    return joints[:SHOWN], max(len(joints) - SHOWN, 0)


def ahead_rows(joints: list[Held], found: Forecast, alone: tuple[Hanging, ...]) -> Iterator[tuple[Any, ...]]:
    """The heads, then a row for each joint, as plain data; the first loss and the first gain of each."""
    yield HEADS
    lost = {one.pk: change.on for change in reversed(found.changes) for one in change.lost}
    gained = {one.pk: change.on for change in reversed(found.changes) for one in change.gained}
    hangs: dict[int, list[str]] = {}
    for person in alone:
        for one in person.joints:
            hangs.setdefault(one.pk, []).append(person.name)
    for one in joints:
        said = ("yes" if one.pk in found.covered else "no", lost.get(one.pk), gained.get(one.pk))
        yield (one.named, *said, ", ".join(hangs.get(one.pk, ())))
