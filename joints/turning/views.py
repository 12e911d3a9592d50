"""The pages of the geometry: its forms, the list that is sent in."""

import csv
import io
from typing import Any

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from joints.models import Assembly, AssemblyGeometry, Job, Joint, JointGeometry
from joints.turning.forms import (
    ASSEMBLY_PLAN,
    JOINT_PLAN,
    AssemblyGeometryForm,
    GeometryUploadForm,
    JointGeometryForm,
)
from joints.turning.listed import take_in, template_rows
from register.base.forms import prepared
from register.base.pages import Page
from register.base.views import FormPage
from register.judged_words import told, told_within
from register.lists.table import Refusal
from register.roles import Capability, requires


class JointGeometryEdit(FormPage):
    """Where a weld runs and which way it faces, in the coordinates of its assembly at turn 0."""

    required_capability = Capability.EDIT_JOBS
    form_class = JointGeometryForm
    plan = JOINT_PLAN
    template_name = "joints/geometry.html"
    saved_message = _("Saved: {0}.")

    def find_object(self) -> JointGeometry:
        joint = get_object_or_404(Joint.objects.select_related("assembly__job", "geometry"), pk=self.kwargs["joint"])
        return getattr(joint, "geometry", None) or JointGeometry(joint=joint)

    def get_queryset(self) -> QuerySet[JointGeometry]:
        return JointGeometry.objects.all()

    def get_page_title(self) -> str:
        return gettext("Geometry of %(joint)s") % {"joint": told_within(str(self.object.joint))}

    def get_lead(self) -> str:
        return gettext("%(assembly)s of %(job)s") % {
            "assembly": self.object.joint.assembly,
            "job": told_within(str(self.object.joint.assembly.job)),
        }


class AssemblyGeometryEdit(FormPage):
    """What an assembly is turned about, and its section."""

    required_capability = Capability.EDIT_JOBS
    form_class = AssemblyGeometryForm
    plan = ASSEMBLY_PLAN
    template_name = "joints/geometry.html"
    saved_message = _("Saved: {0}.")

    def find_object(self) -> AssemblyGeometry:
        assembly = get_object_or_404(Assembly.objects.select_related("job", "geometry"), pk=self.kwargs["assembly"])
        return getattr(assembly, "geometry", None) or AssemblyGeometry(assembly=assembly)

    def get_queryset(self) -> QuerySet[AssemblyGeometry]:
        return AssemblyGeometry.objects.all()

    def get_page_title(self) -> str:
        return gettext("Axis and section of %(assembly)s") % {"assembly": told_within(str(self.object.assembly))}

    def get_lead(self) -> str:
        return told(str(self.object.assembly.job))


class GeometryUpload(Page, FormView):
    """A list of geometries of a job, written whole or not at all."""

    required_capability = Capability.IMPORT_JOINTS
    template_name = "joints/geometry_upload.html"
    form_class = GeometryUploadForm
    page_title = _("Take in geometries")

    def get_job(self) -> Job:
        """The job the list is for."""
        return get_object_or_404(Job, pk=self.kwargs["pk"])

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: GeometryUploadForm) -> HttpResponse:
        job = self.get_job()
        try:
            found = take_in(job, form.cleaned_data["file"].read(), self.request.user)
        except Refusal as refusal:
            form.add_error("file", str(refusal))
            return self.form_invalid(form)
        messages.success(
            self.request, gettext("The geometry of %(joints)s joints is on file.") % {"joints": f"{found.joints:,}"}
        )
        return HttpResponseRedirect(job.get_absolute_url())

    def form_invalid(self, form: GeometryUploadForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        job = self.get_job()
        return super().get_context_data(
            lead=gettext("For %(job)s: %(title)s") % {"job": told_within(str(job)), "title": job.title},
            cancel_url=job.get_absolute_url(),
            template_url=reverse("joints:geometry_template"),
            **kwargs,
        )


@requires(Capability.VIEW)
def geometry_template(request: HttpRequest) -> HttpResponse:
    """A list of geometries to fill in."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=";").writerows(template_rows())
    response = HttpResponse(out.getvalue().encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="list-of-geometries.csv"'
    return response
