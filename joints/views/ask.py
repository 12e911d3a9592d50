"""Ask about a joint that is not on file: the same verdict, while the entries are made."""

from typing import Any

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.utils.translation import gettext_lazy as _

from joints.forms import JOINT_PLAN, AskForm
from joints.models import Job, Joint
from joints.ready import day_of
from joints.views.answer import AnswerView, answer_view
from register.base.forms import prepared, sections
from register.base.views import PlainPage
from register.roles import Capability

PLAN = ((_("For which job"), ("job",)), *JOINT_PLAN)
NOT_ENTRIES = frozenset({"on", "csrfmiddlewaretoken"})


class Ask(PlainPage):
    """The entries stand in the address, so that a question can be kept or sent to a colleague."""

    required_capability = Capability.VIEW
    template_name = "joints/ask.html"
    page_title = _("Ask about a joint")
    lead = _("One that is not on file. What is not stated is answered as not stated.")

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        asked = {name: value for name, value in request.GET.items() if name not in NOT_ENTRIES and value}
        self.form = AskForm(request.GET) if asked else AskForm()
        return super().get(request, *args, **kwargs)

    def get_template_names(self) -> list[str]:
        # htmx asks for the answer alone; the way back in the browser's history asks for the whole page.
        htmx = self.request.htmx and not self.request.htmx.history_restore_request
        return ["joints/_asked_anew.html"] if htmx else [self.template_name]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        form = prepared(self.form)
        return super().get_context_data(
            form=form, sections=[s for s in sections(form, PLAN) if s[1]], answer=self.answered(), **kwargs
        )

    def answered(self) -> AnswerView | None:
        """The answer, or None while nothing was entered or an entry cannot be read."""
        if not self.form.is_bound or not self.form.is_valid():
            return None
        data = dict(self.form.cleaned_data)
        job = data.pop("job") or Job()
        day, joint = day_of(self.on), Joint(**data)
        return answer_view(day.explain(joint, job), day.ranked(joint, job))
