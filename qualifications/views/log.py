"""The weld log: the list, a new entry, and striking one out."""

from typing import Any, ClassVar

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from qualifications.event_forms import full_name
from qualifications.filters import WeldLogFilter
from qualifications.forms import LOG_PLAN, ReasonForm, WeldLogForm
from qualifications.models import WeldLogBatch, WeldLogEntry
from qualifications.tables import WeldLogTable
from qualifications.weld_log.files import loggable
from register.audit import record_act
from register.base.forms import prepared
from register.base.views import ConfirmPage, FormPage, ListPage
from register.plants.rows import own
from register.roles import Capability, can


class WeldLog(ListPage):
    """Who welded what, newest first."""

    required_capability = Capability.VIEW
    page_title = _("Weld log")
    lead = _("Who welded what, with which process. It is evidence for confirmations; it never signs by itself.")
    queryset = WeldLogEntry.objects.select_related("person")
    table_class = WeldLogTable
    filterset_class = WeldLogFilter
    template_name = "qualifications/weld_log.html"
    create_label = _("Log a weld")
    empty: ClassVar[dict[str, str]] = {
        "title": _("Nothing is logged yet."),
        "teach": _(
            "A line for every day and joint: who welded, with which process. Confirmations are proposed from it."
        ),
    }

    def get_queryset(self) -> QuerySet[WeldLogEntry]:
        """As of the day asked about: what was welded up to it."""
        return super().get_queryset().filter(on__lte=self.on)

    def get_table_kwargs(self) -> dict[str, Any]:
        return {"may_strike": self.may(Capability.WRITE_WELD_LOG)}

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        files = WeldLogBatch.objects.defer("rows", "problems")[:5]
        return super().get_context_data(files=files, may_write=self.may(Capability.WRITE_WELD_LOG), **kwargs)

    def get_create_url(self) -> str:
        return reverse("qualifications:weld_log_new") if self.may(Capability.WRITE_WELD_LOG) else ""


class WeldLogNew(FormPage):
    """The form of one entry."""

    required_capability = Capability.WRITE_WELD_LOG
    model = WeldLogEntry
    form_class = WeldLogForm
    plan = LOG_PLAN
    page_title = _("Log a weld")
    saved_message = _("Logged: {0}.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return super().get_form_kwargs() | {"people": loggable(self.request.user).filter(active=True)}

    def get_initial(self) -> dict[str, Any]:
        person = self.request.GET.get("person", "")
        return super().get_initial() | {"on": timezone.localdate(), "person": person if person.isdecimal() else None}

    def save(self, form: WeldLogForm) -> None:
        form.instance.entered_by = self.request.user
        form.instance.entered_by_name = full_name(self.request.user)
        super().save(form)

    def get_success_url(self) -> str:
        return reverse("qualifications:weld_log")

    def get_cancel_url(self) -> str:
        return reverse("qualifications:weld_log")


class WeldLogStrike(ConfirmPage):
    """Strike out a mistaken entry; it stays visible with the reason."""

    required_capability = Capability.WRITE_WELD_LOG
    queryset = WeldLogEntry.objects.select_related("person")
    page_title = _("Strike out an entry of the weld log")
    act_label = _("Strike it out")
    warns = True
    done_message = _("The entry is struck out. It stays on file.")

    def get_object(self, queryset: Any = None) -> WeldLogEntry:
        entry: WeldLogEntry = super().get_object(queryset)
        user = self.request.user
        if not can(user, Capability.EDIT_PEOPLE) and entry.person.supervisor_id != user.pk:
            raise PermissionDenied(gettext("%(name)s does not report to you.") % {"name": entry.person.name})
        return entry

    def get_sentence(self) -> str:
        entry = self.object
        return gettext("The entry of %(name)s, %(text)s, will no longer count as evidence. It stays on file.") % {
            "name": entry.person.name,
            "text": entry.text,
        }

    def get_cancel_url(self) -> str:
        return reverse("qualifications:weld_log")

    def get_form(self) -> ReasonForm:
        """The reason, as typed."""
        asked = ReasonForm(self.request.POST if self.request.method == "POST" else None)
        prepared(asked)
        return asked

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(form=self.get_form(), **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if self.get_form().is_valid():
            return super().post(request, *args, **kwargs)
        self.object = own(self.get_object())
        return self.render_to_response(self.get_context_data(), status=422)

    def act(self) -> str:
        form = self.get_form()
        form.full_clean()
        if self.object.struck_out:
            raise ValueError("The entry is struck out already.")
        self.object.struck_out = form.cleaned_data["reason"]
        self.object.save()
        record_act(self.request.user, "struck out", self.object, after={"reason": self.object.struck_out})
        return reverse("qualifications:weld_log")
