"""The list of joints, one joint with every finding, and its forms."""

from typing import Any, ClassVar

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from codes.units import System
from codes.words import value_words
from joints.filters import JointFilter
from joints.forms import JOINT_PLAN, JointForm
from joints.joint_preheat import joint_preheat
from joints.models import Assembly, Joint
from joints.ready import day_of
from joints.ready_answers import explained
from joints.sizes import leg_of_throat, tenths, throat_of_leg, welds_of
from joints.stations import station_of
from joints.tables import JointTable, mm
from joints.templatetags.joints import weld_words
from joints.trail import trail
from joints.views.answer import answer_view
from register.base.views import Act, ConfirmPage, DetailPage, FormPage, ListPage
from register.judged_words import told, told_within
from register.own_units.reader import units_of
from register.own_units.words import sentence_in
from register.roles import Capability

WHOLE = Joint.every.select_related(
    "assembly__job", "assembly__geometry", "geometry", "final_workstation", "tack_workstation", "source"
)


class JointList(ListPage):
    """All joints of all jobs."""

    required_capability = Capability.VIEW
    page_title = _("Joints")
    table_class = JointTable
    filterset_class = JointFilter
    empty: ClassVar[dict[str, str]] = {
        "title": _("No joint is on file yet."),
        "teach": _("Joints belong to the assemblies of a job. Open a job and take in the list of its welds."),
    }

    def get_queryset(self) -> QuerySet[Joint]:
        return Joint.objects.select_related("assembly__job")

    def get_table_kwargs(self) -> dict[str, Any]:
        # A file keeps millimetres, as every file does that may be taken in again.
        return {"system": System.SI if "export" in self.request.GET else units_of(self.request)}


class JointPage(DetailPage):
    """One joint on the date asked about: the answer, then every finding of tack and final weld."""

    required_capability = Capability.VIEW
    template_name = "joints/joint.html"
    queryset = WHOLE

    def get_page_title(self) -> str:
        return told(self.object.named)

    def get_lead(self) -> str:
        weld, assembly = weld_words(self.object, units_of(self.request)), self.object.assembly
        said = [told(weld), assembly.title, told(str(assembly.job))]
        return ", ".join(filter(None, said))

    def get_facts(self) -> list[tuple[str, ...]]:
        found = facts_of(self.object)
        system = units_of(self.request)
        # Of a fact with an address the words name something, and remarks are somebody's own words.
        kept = gettext("Remarks")
        return [(one[0], sentence_in(one[1], system)) if len(one) == 2 and one[0] != kept else one for one in found]

    def get_acts(self) -> list[Act]:
        if not self.may(Capability.EDIT_JOBS):
            return []
        return [
            Act(gettext("Change"), reverse("joints:joint_edit", args=[self.object.pk])),
            Act(gettext("Remove"), reverse("joints:joint_remove", args=[self.object.pk]), warns=True),
        ]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        job = self.object.assembly.job
        asked, system = day_of(self.on), units_of(self.request)
        found, ranked = explained(asked, self.object, job)
        return super().get_context_data(
            answer=answer_view(found, ranked, self._languages()),
            preheat=joint_preheat(self.object, found.final.covering or found.final.procedures[:1], system),
            system=system,
            job=job,
            assembly=self.object.assembly,
            history=trail(self.object),
            **kwargs,
        )

    def _languages(self) -> dict[str, str]:
        """Of the sheets at the place of each phase, for whoever may print."""
        if not self.may(Capability.PRINT_SHEET):
            return {}
        places = {phase: station_of(self.object, phase) for phase in ("final", "tack")}
        return {phase: place.sheet_language if place else "en" for phase, place in places.items()}


def facts_of(joint: Joint) -> list[tuple[str, ...]]:
    """What the joint states, in the order of reading; what cannot be stated of such a weld is left out."""
    found: list[tuple[str, ...]] = [
        (gettext("Job"), str(joint.assembly.job), joint.assembly.job.get_absolute_url()),
        (gettext("Assembly"), joint.assembly.mark, joint.assembly.get_absolute_url()),
        (gettext("Joint"), _names(joint, "joint_type", "product")),
        (gettext("Part 1"), _part(joint.grade_1, joint.t1_mm, joint.heat_1)),
        (gettext("Part 2"), _part(joint.grade_2, joint.t2_mm, joint.heat_2)),
        (gettext("Size"), _size(joint)),
        (gettext("Length"), _length(joint)),
        (gettext("Intermittent"), _elements(joint)),
        (gettext("Position"), _names(joint, "position")),
        (gettext("Final weld"), _phase(joint.final_process, station_of(joint, "final"))),
        (gettext("Tacks"), _phase(joint.tack_process, station_of(joint, "tack"))),
        (gettext("Tack length, throat"), _pair(joint.tack_length_mm, joint.tack_throat_mm)),
        (gettext("Tack spacing"), f"{mm(joint.tack_spacing_mm)} mm centre to centre" if joint.tack_spacing_mm else ""),
        (gettext("To be welded on"), joint.weld_date.isoformat() if joint.weld_date else ""),
    ]
    if joint.weld_type != "fillet" or joint.weld_detail:
        found.insert(8, (gettext("Sides and backing"), _names(joint, "weld_detail", "gouging")))
    if joint.preparation:
        found.append((gettext("Preparation"), joint.get_preparation_display()))
    if joint.product == "pipe":
        found.insert(6, (gettext("Outside diameter"), f"{mm(joint.diameter_mm)} mm" if joint.diameter_mm else ""))
    if joint.source:
        found.append((gettext("From"), f"{joint.source}, row {joint.source_row}", joint.source.get_absolute_url()))
    return found + ([(gettext("Remarks"), joint.remarks)] if joint.remarks else [])


def _length(joint: Joint) -> str:
    """Example: "310 mm"; "2 welds of 310 mm each" for a fillet on both sides."""
    if not joint.length_mm:
        return ""
    welds = welds_of(joint.weld_type, joint.weld_detail)
    return f"{welds} welds of {mm(joint.length_mm)} mm each" if welds > 1 else f"{mm(joint.length_mm)} mm"


def _names(joint: Joint, *names: str) -> str:
    return ", ".join(value_words(name, getattr(joint, name)) for name in names if getattr(joint, name))


def _part(grade: str, thickness: Any, heat: str) -> str:
    thick = f"t = {mm(thickness)} mm" if thickness else ""
    return ", ".join(filter(None, (grade, thick, f"heat {heat}" if heat else "")))


def _size(joint: Joint) -> str:
    if joint.throat_mm:
        return f"a = {mm(joint.throat_mm)} mm (z = {mm(tenths(leg_of_throat(joint.throat_mm)))} mm)"
    if joint.leg_mm:
        return f"z = {mm(joint.leg_mm)} mm (a = {mm(tenths(throat_of_leg(joint.leg_mm)))} mm)"
    if joint.penetration_mm:
        return f"s = {mm(joint.penetration_mm)} mm"
    return "through the thickness" if joint.weld_type == "butt_cjp" else ""


def _elements(joint: Joint) -> str:
    """Example: "elements of 50 mm, clear gaps of 100 mm"."""
    if joint.intermittent != "yes":
        return ""
    element, gap = (f"{mm(size)} mm" if size else "?" for size in (joint.element_length_mm, joint.element_gap_mm))
    return f"elements of {element}, clear gaps of {gap}"


def _phase(process: str, station: Any) -> str:
    named = " + ".join(both_names("process", part) for part in process.split("+")) if process else ""
    return ", ".join(filter(None, (named, str(station or ""))))


def _pair(length: Any, throat: Any) -> str:
    return ", ".join(f"{mm(value)} mm" for value in (length, throat) if value)


class JointNew(FormPage):
    """The form for a new joint of an assembly."""

    required_capability = Capability.EDIT_JOBS
    model = Joint
    form_class = JointForm
    plan = JOINT_PLAN
    page_title = _("A new joint")
    saved_message = _("{0} is on file.")

    def find_object(self) -> Joint:
        assembly = get_object_or_404(Assembly.objects.select_related("job"), pk=self.kwargs["assembly"])
        return Joint(assembly=assembly)

    def get_lead(self) -> str:
        return gettext("%(assembly)s of %(job)s") % {
            "assembly": self.object.assembly,
            "job": told_within(str(self.object.assembly.job)),
        }

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object.pk else self.object.assembly.get_absolute_url()


class JointEdit(JointNew):
    """The form for a joint on file."""

    saved_message = _("Saved: {0}.")

    def find_object(self) -> Joint:
        return self.get_object()

    def get_queryset(self) -> QuerySet[Joint]:
        return WHOLE.all()

    def get_page_title(self) -> str:
        return gettext("Change %(named)s") % {"named": told_within(self.object.named)}


class JointRemove(ConfirmPage):
    """A joint that is not welded after all; its versions stay on file."""

    required_capability = Capability.EDIT_JOBS
    queryset = WHOLE
    act_label = _("Remove the joint")
    warns = True
    done_message = _("{0} was removed.")

    def get_page_title(self) -> str:
        return gettext("Remove %(named)s") % {"named": told_within(self.object.named)}

    def get_sentence(self) -> str:
        return gettext("%(object)s leaves %(assembly)s. Its earlier versions stay in the history.") % {
            "object": self.object,
            "assembly": told_within(str(self.object.assembly)),
        }

    def act(self) -> str:
        url = self.object.assembly.get_absolute_url()
        self.object.delete()
        return url
