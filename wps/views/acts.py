"""Acts on a revision, each confirmed on a page of its own: check, approve, withdraw, start the next one."""

from typing import Any

from django.db.models import QuerySet
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.wps_lists import list_name
from register.base.views import ConfirmPage
from register.held.firm import firm_settings
from register.own_units.reader import units_of
from register.papers.codes import status_address
from register.roles import Capability
from register.signing import SignedConfirmPage
from wps import workflow
from wps.completeness import missing
from wps.forms.revision import ReasonForm
from wps.judgement import judge
from wps.models import Procedure, ProcedureRevision, Status
from wps.own_judgement import judgement_in
from wps.sheet_ahead import print_ahead
from wps.views.revisions import whole


class RevisionAct(ConfirmPage):
    """What the acts share. They are done today, whatever date is asked about."""

    template_name = "wps/act.html"

    def get_queryset(self) -> QuerySet[ProcedureRevision]:
        return whole(ProcedureRevision.objects.all())

    def with_answer(self, context: dict[str, Any]) -> dict[str, Any]:
        """The context with the answer in the reader's units; where the refusal quotes it, it does so in the same."""
        judged, system = judge(self.object, timezone.localdate(), firm_settings()), units_of(self.request)
        shown = judgement_in(judged, system)
        why_not = context["why_not"].replace(judged.sentence, shown.sentence)
        return context | {"judgement": shown, "system": system, "why_not": why_not}


class RevisionCheck(RevisionAct):
    """A complete draft becomes checked."""

    required_capability = Capability.CHECK_PROCEDURE
    act_label = _("Mark as checked")
    done_message = _("Checked: {0}. Somebody other than its author approves it.")

    def get_page_title(self) -> str:
        return gettext("Check %(object)s") % {"object": self.object}

    def get_sentence(self) -> str:
        against = "the code's own limits" if self.object.is_prequalified else "its records"
        asked = list_name(self.object.code)
        return gettext("%(object)s states all that %(asked)s asks for, and you have read it against %(against)s.") % {
            "object": self.object,
            "asked": asked,
            "against": against,
        }

    def why_not(self) -> str:
        return workflow.why_not_check(self.object, self.request.user)

    def act(self) -> str:
        workflow.check_revision(self.object, self.request.user, timezone.localdate())
        return str(self.object.get_absolute_url())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = self.with_answer(super().get_context_data(**kwargs))
        if workflow.not_theirs_to_check(self.object, self.request.user) or not (lacking := missing(self.object)):
            return context
        # What is not stated is a list, however long; the sentence of the refusal would run it together.
        told = gettext("%(object)s cannot be checked yet.") % {"object": self.object}
        return context | {"why_not": told, "missing": lacking, "asked_by": list_name(self.object.code)}


class RevisionApprove(RevisionAct, SignedConfirmPage):
    """A checked revision comes into force; signed."""

    required_capability = Capability.APPROVE_PROCEDURE
    act_label = _("Approve")
    done_message = _("Approved: {0}. It is in force from today and stays as it is.")

    def get_page_title(self) -> str:
        return gettext("Approve %(object)s") % {"object": self.object}

    def get_sentence(self) -> str:
        return gettext("%(object)s comes into force today and can no longer be changed.") % {"object": self.object}

    def get_takes_away(self) -> list[str]:
        before = self.object.procedure.revisions.filter(status=Status.APPROVED).first()
        return [f"revision {before.letter}, which is superseded today"] if before else []

    def why_not(self) -> str:
        return workflow.why_not_approve(self.object, self.request.user, timezone.localdate(), firm_settings())

    def act(self) -> str:
        done = workflow.approve(self.object, self.request.user, timezone.localdate(), firm_settings())
        print_ahead(done, self.request.user, status_address(self.request), units_of(self.request))
        return str(self.object.get_absolute_url())

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return self.with_answer(super().get_context_data(**kwargs))


class RevisionWithdraw(RevisionAct, SignedConfirmPage):
    """A revision ends for a reason; signed."""

    required_capability = Capability.EDIT_PROCEDURE
    form_class = ReasonForm
    act_label = _("Withdraw")
    warns = True
    done_message = _("Withdrawn: {0}.")

    def get_page_title(self) -> str:
        return gettext("Withdraw %(object)s") % {"object": self.object}

    def get_sentence(self) -> str:
        if self.object.status == Status.APPROVED:
            return gettext("%(object)s is no longer in force from today. Joints that only it covers are uncovered.") % {
                "object": self.object
            }
        return gettext("%(object)s ends unfinished. It stays on file and cannot be written in any more.") % {
            "object": self.object
        }

    def why_not(self) -> str:
        return (
            ""
            if self.object.ended_on is None
            else gettext("%(object)s is already %(status)s.")
            % {"object": self.object, "status": self.object.get_status_display()}
        )

    def act(self) -> str:
        workflow.withdraw(self.object, self.request.user, timezone.localdate(), self.form.cleaned_data["reason"])
        return str(self.object.get_absolute_url())


class RevisionNew(ConfirmPage):
    """A draft of the next revision, copied from the newest."""

    required_capability = Capability.EDIT_PROCEDURE
    model = Procedure
    act_label = _("Start the draft")

    def get_page_title(self) -> str:
        return gettext("New revision of %(object)s") % {"object": self.object}

    def get_sentence(self) -> str:
        newest = self.object.revisions.order_by("-pk").first()
        letter = f" of revision {newest.letter}" if newest else ""
        return gettext(
            "A draft starts as a copy%(letter)s. What is in force stays in force until the draft is approved."
        ) % {"letter": letter}

    def act(self) -> str:
        draft = workflow.start_revision(self.object, self.request.user)
        return reverse("wps:revision_edit", args=[draft.pk])
