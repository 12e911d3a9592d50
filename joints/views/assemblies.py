"""One assembly: every joint with its answer, tack and final, procedure and person; and the form."""

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from joints.forms import AssemblyForm
from joints.matrix import matrix
from joints.models import Assembly, Job, Joint
from joints.ready import day_of
from joints.trail import trail
from register.base.views import Act, DetailPage, FormPage
from register.judged_words import told, told_within
from register.own_units.reader import units_of
from register.roles import Capability


class AssemblyPage(DetailPage):
    """Coverage of an assembly on the date asked about, joint by joint."""

    required_capability = Capability.VIEW
    template_name = "joints/assembly.html"
    queryset = Assembly.objects.select_related("job")

    def get_page_title(self) -> str:
        return told(str(self.object))

    def get_lead(self) -> str:
        return ", ".join(filter(None, (self.object.title, self.object.kind)))

    def get_acts(self) -> list[Act]:
        seen = [
            Act(label, reverse(f"joints:{name}", args=[self.object.pk]))
            for label, name in (
                (gettext("Turning plan"), "turning_plan"),
                (gettext("Coverage report, PDF"), "coverage_report"),
                (gettext("Weld map, PDF"), "weld_map"),
            )
        ]
        if not self.may(Capability.EDIT_JOBS):
            return seen
        return [
            *seen,
            Act(gettext("Add a joint"), reverse("joints:joint_new", args=[self.object.pk]), main=True),
            Act(gettext("Change"), reverse("joints:assembly_edit", args=[self.object.pk])),
        ]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        joints = Joint.objects.filter(assembly=self.object).order_by("order_key", "pk")
        answers = day_of(self.on).answers(joints)
        return super().get_context_data(
            matrix=matrix(answers),
            system=units_of(self.request),
            lines=list(zip(joints, answers, strict=True)),
            history=trail(self.object),
            **kwargs,
        )


class AssemblyNew(FormPage):
    """The form for a new assembly of a job."""

    required_capability = Capability.EDIT_JOBS
    model = Assembly
    form_class = AssemblyForm
    page_title = _("A new assembly")
    saved_message = _("{0} is on file.")

    def find_object(self) -> Assembly:
        return Assembly(job=get_object_or_404(Job, pk=self.kwargs["job"]))

    def get_lead(self) -> str:
        return told(str(self.object.job))

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object.pk else self.object.job.get_absolute_url()


class AssemblyEdit(AssemblyNew):
    """The form for an assembly on file."""

    saved_message = _("Saved: {0}.")

    def find_object(self) -> Assembly:
        return self.get_object()

    def get_queryset(self) -> QuerySet[Assembly]:
        return Assembly.objects.select_related("job")

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": told_within(str(self.object))}
