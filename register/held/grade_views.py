"""The firm's own steel grades: the list with its history, a grade stated, a grade withdrawn."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.generic.edit import FormView

from codes.clauses import Mark
from codes.own_grades import in_words
from codes.steels import GROUPING
from register.base.forms import prepared, sections
from register.base.pages import Page, PlainPage
from register.held.grades import latest_grades, state_grade, uses_of, withdraw_grade
from register.held.models import FirmGrade
from register.held.views import to_ask
from register.roles import Capability
from register.signing import FIELD, SignedConfirmPage, SignedForm

LEAD = _(
    "Grades that the register does not hold, with a source. Joints, imports, test records, procedures and the check of "
    "weld data know them from the moment they are stated."
)


class GradesPage(PlainPage):
    """The grades of the firm in force, and every statement about them."""

    required_capability = Capability.VIEW
    template_name = "register/grades.html"
    page_title = _("Steel grades of the firm")
    lead = LEAD

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        statements = list(FirmGrade.objects.all())
        in_force = [one for one in latest_grades().values() if not one.withdrawn]
        rows = [{"grade": one, "bands": in_words(one.grade)} for one in sorted(in_force, key=lambda one: one.key)]
        history = [{"grade": one, "bands": in_words(one.grade)} for one in reversed(statements)]
        may_set = self.may(Capability.SET_READINGS)
        return super().get_context_data(
            rows=rows,
            history=history,
            may_set=may_set,
            ask=to_ask(may_set),
            grouping=GROUPING,
            mark=Mark.OWN.value,
            **kwargs,
        )


class GradeForm(forms.Form):
    """What a grade states."""

    name = forms.CharField(
        max_length=40, label=_("Steel grade"), help_text=_("as lists and drawings name it, without delivery condition")
    )
    standard = forms.CharField(
        max_length=80,
        required=False,
        label=_("Product standard or data sheet"),
        help_text=_("with its edition or date"),
    )
    group = forms.CharField(max_length=10, label=_("Group to ISO/TR 15608:2017"), help_text=_("for example 1.2 or 3.1"))
    lines = forms.CharField(
        max_length=250,
        label=_("Specified minimum yield strength"),
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=_("one thickness a line, the thinnest first: up to 16 mm: 355 MPa; or 3/4 in: 50 ksi; or any: 700"),
    )
    source = forms.CharField(
        max_length=250, label=_("Source"), help_text=_("data sheet, certificate or approval, with date")
    )
    note = forms.CharField(max_length=250, required=False, label=_("Note"))
    why = forms.CharField(label=_("Why the firm needs it"), widget=forms.Textarea(attrs={"rows": 2}))


PLAN = (
    (_("The grade"), ("name", "standard", "group", "lines")),
    (_("Where it comes from"), ("source", "note", "why")),
    (_("Your signature"), (FIELD,)),
)


class GradeNew(SignedForm, Page, FormView):
    """State a grade, or state one anew; signed."""

    required_capability = Capability.SET_READINGS
    template_name = "generic/form.html"
    form_class = GradeForm
    page_title = _("State a steel grade")
    lead = _(
        "A wrong group or yield misjudges every joint in this steel: lay the data sheet beside it before you sign."
    )

    def get_initial(self) -> dict[str, Any]:
        known = latest_grades().get(FirmGrade.key_of(self.request.GET.get("grade", "")))
        if known is None:
            return {}
        kept = {name: getattr(known, name) for name in ("name", "standard", "group", "source", "note")}
        return kept | {"lines": "\n".join(in_words(known.grade))}

    def get_form(self, form_class: Any = None) -> Any:
        return prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        data = form.cleaned_data
        stated = {name: data[name] for name in ("name", "standard", "group", "source", "note")}
        try:
            made = state_grade(self.request.user, data["why"], data["lines"], **stated)
        except ValueError as refusal:
            form.add_error(None, str(refusal))
            return self.form_invalid(form)
        messages.success(self.request, gettext("From now on the firm holds %(grade)s.") % {"grade": made})
        return HttpResponseRedirect(reverse("held:grades"))

    def form_invalid(self, form: Any) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        context = super().get_context_data(cancel_url=reverse("held:grades"), save_label=_("State the grade"), **kwargs)
        return context | {"sections": sections(context["form"], PLAN)}


class WithdrawForm(forms.Form):
    """Why."""

    why = forms.CharField(label=_("Why it is withdrawn"), widget=forms.Textarea(attrs={"rows": 2}))


class GradeWithdraw(SignedConfirmPage):
    """Withdraw a grade; what was stated stays. Signed."""

    required_capability = Capability.SET_READINGS
    form_class = WithdrawForm
    act_label = _("Withdraw the grade")
    warns = True
    done_message = _("The firm holds {0.name} no longer. What was stated about it stays on this page.")

    def find(self) -> FirmGrade:
        """The grade; it belongs to no plant, so who may state one may withdraw it."""
        return self.get_object()

    def get_object(self) -> FirmGrade:
        """The grade in force of this statement. Raises Http404."""
        found = next((one for one in latest_grades().values() if one.pk == self.kwargs["pk"]), None)
        if found is None or found.withdrawn:
            raise Http404(gettext("The firm holds no such grade."))
        return found

    def get_page_title(self) -> str:
        return gettext("Withdraw the steel grade %(name)s") % {"name": self.object.name}

    def get_sentence(self) -> str:
        said = gettext(
            "From this moment on joints in %(name)s are answered 'not stated'. Records and procedures keep the group "
            "and the yield that were filled in."
        )
        return said % {"name": self.object.name}

    def get_takes_away(self) -> list[str]:
        return [gettext("the steel of %(what)s") % {"what": words} for words in uses_of(self.object.name)]

    def get_cancel_url(self) -> str:
        return reverse("held:grades")

    def act(self) -> str:
        withdraw_grade(self.request.user, self.object.name, self.form.cleaned_data["why"])
        return reverse("held:grades")
