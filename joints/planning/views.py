"""What to test next for a job: the page, and the same as a file."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from django.core.exceptions import BadRequest
from django.db.models import Q
from django.http import HttpRequest
from django.http.response import HttpResponseBase

from joints.matrix import lower_first
from joints.models import Job, Joint
from joints.planning.plan import Plan, plan
from joints.ready import day_of
from register.base import exports
from register.base.views import DetailPage
from register.roles import Capability

HEADS = ("What", "Code", "Piece", "Extra tests", "Joints covered", "Joints by this alone", "Named", "Proof or reason")
MOST_JOBS = 40
SHOWN = 60
"""Joints named under one heading of the page; the file names all."""


class JobTests(DetailPage):
    """The fewest test pieces that would cover the uncovered joints of a job on the date asked about."""

    required_capability = Capability.VIEW
    template_name = "joints/planning/page.html"
    queryset = Job.objects.all()

    def get_page_title(self) -> str:
        return f"What to test next for {lower_first(str(self.object))}"

    def get_lead(self) -> str:
        return self.object.title

    def chosen(self) -> list[Job]:
        """The other jobs of its plant that are planned for together with this one."""
        wanted = [pk for pk in self.request.GET.getlist("with") if pk.isdecimal()][:MOST_JOBS]
        here = Job.objects.filter(plant=self.object.plant_id)
        return list(here.filter(pk__in=wanted).exclude(pk=self.object.pk))

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        wanted = request.GET.get("export", "")
        if wanted not in ("", "csv", "xlsx"):
            raise BadRequest(f"This plan can be taken away as csv or xlsx, not as “{wanted[:20]}”.")
        chosen = self.chosen()
        found = plan([self.object, *chosen], day_of(self.on))
        named = _named(found)
        if not wanted:
            return self.render_to_response(self.get_context_data(plan=found, named=named, chosen=chosen))
        make = exports.csv_response if wanted == "csv" else exports.xlsx_response
        return make(plan_rows(found, named, bool(chosen)), f"tests-{self.object.pk}-{self.on.isoformat()}")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        found, named = kwargs["plan"], kwargs.pop("named")
        parts = [
            (part, [(one, _first(one.joints, named), len(one.joints) - SHOWN) for one in part.bought])
            for part in found.parts
            if part.bought
        ]
        blocked = [(one, _first(one.joints, named), len(one.joints) - SHOWN) for one in found.blocked]
        nearest = [(named[pk], why) for pk, why in found.nearest.items() if pk in named][: 2 * SHOWN]
        return super().get_context_data(
            parts=parts, blocked=blocked, nearest=nearest, unnamed=len(found.open) - len(nearest),
            back=self.object.get_absolute_url(), full=bool(kwargs["chosen"]),
            others=_running(self.object, kwargs["chosen"], self.on),
            export_urls=[(name.upper(), self._export(name)) for name in ("csv", "xlsx")], **kwargs,
        )  # fmt: skip

    def _export(self, name: str) -> str:
        asked = self.request.GET.copy()
        asked["export"] = name
        return f"?{asked.urlencode()}"


def _running(job: Job, chosen: Sequence[Job], on: date) -> list[Job]:
    """The jobs of the same plant that can be planned for together: those that have not ended, and those chosen."""
    open_ = Job.objects.filter(Q(ends_on__isnull=True) | Q(ends_on__gte=on) | Q(pk__in=[one.pk for one in chosen]))
    return list(open_.filter(plant=job.plant_id).exclude(pk=job.pk).order_by("number")[:MOST_JOBS])


def _named(found: Plan) -> dict[int, Joint]:
    """The open joints by key."""
    return Joint.objects.select_related("assembly__job").defer("remarks").in_bulk(found.open)


def _first(joints: Sequence[int], named: dict[int, Joint]) -> list[Joint]:
    return [named[pk] for pk in joints[:SHOWN]]


def plan_rows(found: Plan, named: dict[int, Joint], full: bool = False) -> Iterator[tuple[Any, ...]]:
    """The heads, the chosen pieces, what no piece helps, and why each joint is not covered today, as plain data.

    `full`: joints are named with their jobs.
    """

    def names(joints: Sequence[int]) -> str:
        return ", ".join(_name(named[pk], full) for pk in joints)

    yield HEADS
    for part in found.parts:
        for one in part.bought:
            said = (", ".join(one.extras), len(one.joints), one.alone, names(one.joints))
            yield (part.kind, one.piece.code, one.piece.words, *said, part.cover.sentence)
    for blocked in found.blocked:
        yield ("no piece helps", "", "", "", len(blocked.joints), "", names(blocked.joints), blocked.why)
    for pk, why in found.nearest.items():
        yield ("not covered today", "", "", "", 1, "", names((pk,)), " ".join(why))


def _name(joint: Joint, full: bool) -> str:
    job = f"{joint.assembly.job.number} " if full else ""
    return f"{job}{joint.assembly.mark}/{joint.number}"
