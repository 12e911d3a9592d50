"""Small pages built on the shared bases, for the tests of these bases. Only these tests know their addresses."""

import django_filters
import django_tables2 as columns
from django.urls import include, path

from joints.models import Job
from register.base.filters import RegisterFilterSet
from register.base.tables import LeanTable, link
from register.base.views import ConfirmPage, DetailPage, FormPage, ListPage
from register.models import AuditEntry
from register.roles import Capability


class ActTable(LeanTable):
    act = columns.Column()
    user_name = columns.Column(verbose_name="Who")
    at = columns.Column()
    subject = columns.Column(orderable=False)
    subject_id = columns.Column()
    note = columns.Column(orderable=False)
    subject_type = columns.Column()
    after = columns.Column(orderable=False)
    pk = columns.Column(verbose_name="Number")

    caption = "Acts"
    numeric = ("pk",)

    class Meta(LeanTable.Meta):
        order_by = ("-at", "-pk")

    def render_act(self, value: str, record: AuditEntry) -> str:
        return link(f"/acts/{record.pk}", value)

    def render_at(self, value: object) -> str:
        return f"{value:%Y-%m-%d}"

    def value_at(self, value: object) -> object:
        return value


class ActFilter(RegisterFilterSet):
    search_fields = ("act", "user_name")
    user_name = django_filters.CharFilter(label="Who")


class Acts(ListPage):
    required_capability = Capability.VIEW
    page_title = "Acts"
    queryset = AuditEntry.objects.all()
    table_class = ActTable
    filterset_class = ActFilter
    empty = {"title": "Nothing has been done yet.", "teach": "Every act is written here."}


class ChangeJob(FormPage):
    required_capability = Capability.EDIT_JOBS
    page_title = "Job"
    model = Job
    fields = ("number", "title", "client", "starts_on")
    success_url = "/jobs-for-tests/"
    cancel_url = "/"


class ShowJob(DetailPage):
    required_capability = Capability.VIEW
    model = Job

    def get_facts(self) -> list[tuple[str, ...]]:
        return [("Client", self.object.client), ("Title", self.object.title)]


class RenameJob(ConfirmPage):
    required_capability = Capability.EDIT_JOBS
    model = Job
    act_label = "Rename"
    page_title = "Rename the job"

    def get_sentence(self) -> str:
        return f"{self.object.title} loses its name."

    def get_cancel_url(self) -> str:
        return "/"

    def act(self) -> str:
        if self.object.title == "kept":
            raise ValueError("The job keeps its name: it is called kept.")
        self.object.title = "renamed"
        self.object.save()
        return "/"


urlpatterns = [
    path("acts-for-tests/", Acts.as_view()),
    path("jobs-for-tests/", ChangeJob.as_view()),
    path("jobs-for-tests/<int:pk>/", ChangeJob.as_view()),
    path("jobs-for-tests/<int:pk>/show/", ShowJob.as_view()),
    path("jobs-for-tests/<int:pk>/rename/", RenameJob.as_view()),
    path("", include("register.urls")),
]
handler400 = "register.base.errors.bad_request"
handler403 = "register.base.errors.forbidden"
