"""What to test next for a job: the page, and the same as a file."""

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase

from joints.matrix import lower_first
from joints.models import Job, Joint
from joints.planning.plan import Bought, Plan, plan
from joints.ready import day_of
from register.base import exports
from register.base.views import DetailPage
from register.roles import Capability

HEADS = ("What", "Code", "Piece", "Extra tests", "Joints covered", "Joints by this alone", "Named", "Proof or reason")
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

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        found = plan([self.object], day_of(self.on))
        named = _named(found)
        wanted = request.GET.get("export", "")
        if not wanted:
            return self.render_to_response(self.get_context_data(plan=found, named=named))
        if wanted != "csv":
            raise BadRequest(f"This plan can be taken away as csv, not as “{wanted[:20]}”.")
        return exports.csv_response(plan_rows(found, named), f"tests-{self.object.pk}-{self.on.isoformat()}")

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
            back=self.object.get_absolute_url(), **kwargs,
        )  # fmt: skip


def _named(found: Plan) -> dict[int, Joint]:
    """The open joints by key."""
    return Joint.objects.select_related("assembly").defer("remarks").in_bulk(found.open)


def _first(joints: Sequence[int], named: dict[int, Joint]) -> list[Joint]:
    return [named[pk] for pk in joints[:SHOWN]]


def plan_rows(found: Plan, named: dict[int, Joint]) -> Iterator[tuple[Any, ...]]:
    """The heads, the chosen pieces, what no piece helps, and why each joint is not covered today, as plain data."""
    yield HEADS
    for part in found.parts:
        for one in part.bought:
            yield _piece_row(part.kind, one, part.cover.sentence, named)
    for blocked in found.blocked:
        yield ("no piece helps", "", "", "", len(blocked.joints), "", _names(blocked.joints, named), blocked.why)
    for pk, why in found.nearest.items():
        yield ("not covered today", "", "", "", 1, "", _names((pk,), named), " ".join(why))


def _piece_row(kind: str, one: Bought, proof: str, named: dict[int, Joint]) -> tuple[Any, ...]:
    extras = ", ".join(one.extras)
    return (kind, one.piece.code, one.piece.words, extras, len(one.joints), one.alone, _names(one.joints, named), proof)


def _names(joints: Sequence[int], named: dict[int, Joint]) -> str:
    return ", ".join(f"{named[pk].assembly.mark}/{named[pk].number}" for pk in joints)
