"""What to test next for a job: the page, and the same as a file."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from django.core.exceptions import BadRequest
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.utils.translation import gettext

from joints.kept.pages import KeptPage, others_of
from joints.models import Joint
from joints.planning.plan import plan
from joints.planning.shown import PlanShown, from_plain, shown
from joints.planning.work import AT_ONCE, plan_tests
from joints.ready import day_of
from register.base import exports
from register.judged_words import told_within

HEADS = ("What", "Code", "Piece", "Extra tests", "Joints covered", "Joints by this alone", "Named", "Proof or reason")
SHOWN = 60
"""Joints named under one heading of the page; the file names all."""


class JobTests(KeptPage):
    """The fewest test pieces that would cover the uncovered joints of a job on the date asked about."""

    template_name = "joints/planning/page.html"
    kind, at_once = plan_tests, AT_ONCE

    def get_page_title(self) -> str:
        return gettext("What to test next for %(object)s") % {"object": told_within(str(self.object))}

    def get_lead(self) -> str:
        return self.object.title

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        self.object = self.get_object()
        wanted = request.GET.get("export", "")
        if wanted not in ("", "csv", "xlsx"):
            raise BadRequest(
                gettext("This plan can be taken away as csv or xlsx, not as “%(wanted)s”.") % {"wanted": wanted[:20]}
            )
        chosen = self.chosen()
        standing = self.standing_of(chosen)
        if part := self.only_how_far(standing):
            return part
        if standing is None:
            found: PlanShown | None = shown(plan([self.object, *chosen], day_of(self.on)))
        else:
            found = from_plain(standing.found) if standing.kept else None
        if not wanted or found is None:
            kept = {} if standing is None else self.kept_context(standing)
            return self.render_to_response(self.get_context_data(plan=found, chosen=chosen, **kept))
        make = exports.csv_response if wanted == "csv" else exports.xlsx_response
        named = _named(found.nearest)
        return make(plan_rows(found, named, bool(chosen)), f"tests-{self.object.pk}-{self.on.isoformat()}")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        found: PlanShown | None = kwargs["plan"]
        return super().get_context_data(
            **(_context(found) if found is not None else {}),
            has_joints=Joint.objects.filter(assembly__job__in=[self.object, *kwargs["chosen"]]).exists(),
            back=self.object.get_absolute_url(), full=bool(kwargs["chosen"]),
            others=others_of(self.object, kwargs["chosen"], self.on),
            export_urls=[(name.upper(), self.address(export=name)) for name in ("csv", "xlsx")], **kwargs,
        )  # fmt: skip


def _context(found: PlanShown) -> dict[str, Any]:
    """The plan with its joints by name, as far as the page names them."""
    nearest = list(found.nearest.items())[: 2 * SHOWN]
    groups = [*(one.joints for part in found.parts for one in part.bought), *(one.joints for one in found.blocked)]
    named = _named({*(pk for pk, _ in nearest), *(pk for joints in groups for pk in joints[:SHOWN])})
    parts = [
        (part, [(one, _first(one.joints, named), len(one.joints) - SHOWN) for one in part.bought])
        for part in found.parts
        if part.bought
    ]
    return {
        "parts": parts,
        "blocked": [(one, _first(one.joints, named), len(one.joints) - SHOWN) for one in found.blocked],
        "nearest": [(named[pk], why) for pk, why in nearest if pk in named],
        "unnamed": found.open - len(nearest),
    }


def _named(keys: Iterable[int]) -> dict[int, Joint]:
    """Joints by key. Those that left since a plan was kept are in it no more."""
    return Joint.objects.select_related("assembly__job").defer("remarks").in_bulk(keys)


def _first(joints: Sequence[int], named: dict[int, Joint]) -> list[Joint]:
    return [named[pk] for pk in joints[:SHOWN] if pk in named]


def plan_rows(found: PlanShown, named: dict[int, Joint], full: bool = False) -> Iterator[tuple[Any, ...]]:
    """The heads, the chosen pieces, what no piece helps, and why each joint is not covered today, as plain data.

    `full`: joints are named with their jobs.
    """

    def names(joints: Sequence[int]) -> str:
        return ", ".join(_name(named[pk], full) for pk in joints if pk in named)

    yield HEADS
    for part in found.parts:
        for one in part.bought:
            said = (", ".join(one.extras), len(one.joints), one.alone, names(one.joints))
            yield (part.kind, one.code, one.words, *said, part.proof)
    for blocked in found.blocked:
        yield ("no piece helps", "", "", "", len(blocked.joints), "", names(blocked.joints), blocked.why)
    for pk, why in found.nearest.items():
        yield ("not covered today", "", "", "", 1, "", names((pk,)), " ".join(why))


def _name(joint: Joint, full: bool) -> str:
    job = f"{joint.assembly.job.number} " if full else ""
    return f"{job}{joint.assembly.mark}/{joint.number}"
