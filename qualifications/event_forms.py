"""Forms that sign an event: date, name, evidence, and what must be said knowingly."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.readings import DEFAULTS, Settings
from qualifications import events
from qualifications.clocks import Clock, clock_of, kinds_that_end
from qualifications.events import Signature
from qualifications.models import Certificate, CertificateEvent, WeldLogEntry
from qualifications.own_clocks import ProcessesField, clocks_of
from register.base.forms import DateField
from register.roles import Capability, can

Kind = CertificateEvent.Kind


def full_name(user: Any) -> str:
    """The name a signature is entered with."""
    return user.get_full_name() or user.get_username()


class SignedForm(forms.Form):
    """The common ground: a day, a name and a position. A supervisor signs in the own name only."""

    on = DateField(label=_("Signed on"), help_text=_("The day of the signature, not later than today."))
    by_name = forms.CharField(label=_("Signed by"), max_length=150)
    by_role = forms.CharField(label=_("In the position of"), max_length=120, required=False)

    def __init__(
        self,
        *args: Any,
        certificate: Certificate,
        user: Any,
        today: date,
        settings: Settings = DEFAULTS,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.certificate, self.user, self.today, self.settings = certificate, user, today, settings
        self.fields["on"].initial = today
        self.fields["by_name"].initial = full_name(user)
        if not can(user, Capability.RECORD_CONFIRMATION):
            self.fields["by_name"].disabled = True

    def ask_for_processes(self) -> None:
        """Ask with which processes it was welded, where each of them has a clock of its own."""
        if pairs := clocks_of(self.certificate):
            self.fields["processes"] = ProcessesField(pairs)
            self.order_fields(self.field_order)

    def processes(self) -> dict[str, str]:
        """What was said of them, as the details of an event."""
        field = self.fields.get("processes")
        return field.details(self.cleaned_data.get("processes", ())) if isinstance(field, ProcessesField) else {}

    def clean_on(self) -> date:
        on: date = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(
                gettext("%(on)s is later than today; nobody signs in advance.") % {"on": on.isoformat()}
            )
        return on

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        """The signature as entered."""
        data = self.cleaned_data
        return Signature(data["on"], data["by_name"].strip(), self.user, data["by_role"], evidence, details or {})


class ConfirmForm(SignedForm):
    """A confirmation: evidence from the weld log, ticked, or in words; late entries only knowingly."""

    use = forms.MultipleChoiceField(
        label=_("Evidence from the weld log"), required=False, widget=forms.CheckboxSelectMultiple
    )
    evidence = forms.CharField(
        label=_("Further evidence, in words"),
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("At least one weld inside the range in the last six months: job, joint, date, WPS."),
    )
    used_on = DateField(label=_("Day of that weld"), required=False)
    knowingly = forms.BooleanField(label=_("I enter it knowingly"), required=False)

    def __init__(
        self, *args: Any, entries: Sequence[WeldLogEntry] = (), chosen: Sequence[WeldLogEntry] = (), **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.entries = tuple(entries)
        self.fields["use"].choices = [(str(entry.pk), entry.text) for entry in self.entries]
        if clock_of(self.certificate) is Clock.USED:
            # Only where the welding itself counts are all of them needed, to close every gap.
            self.fields["use"].initial = [str(entry.pk) for entry in chosen]
            self.fields["evidence"].help_text = "A weld that the log does not hold: job, joint, WPS."
        else:
            del self.fields["used_on"]
        self.ask_for_processes()
        if not self.entries:
            del self.fields["use"]
        self.cautions: list[str] = []
        if not (self.is_bound and self._dated_cautions()):
            del self.fields["knowingly"]

    def _dated_cautions(self) -> list[str]:
        """What must be said knowingly, from the date as typed; nothing where it is no date."""
        try:
            on = self.fields["on"].clean(self.data.get(self.add_prefix("on")))
        except forms.ValidationError:
            return []
        self.cautions = events.cautions(self.certificate, on, self.today, self.settings)
        return self.cautions

    def clean_on(self) -> date:
        on = super().clean_on()
        problem = events.obstacle(self.certificate, on, self.today, self.settings)
        if problem:
            raise forms.ValidationError(problem)
        return on

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not data.get("evidence", "").strip() and not data.get("use"):
            self.add_error(
                "evidence",
                gettext(
                    "State the evidence: tick an entry of the weld log, or write job, joint, date and WPS of one weld."
                ),
            )
        self._check_day_of_use(data)
        if "processes" in self.fields and data.get("evidence", "").strip() and not data.get("processes"):
            self.add_error("processes", gettext("Tick the process of the weld that is described in words."))
        if self.cautions and not data.get("knowingly"):
            self.add_error("knowingly", " ".join([*self.cautions, gettext("Tick the box if that is so.")]))
        return data

    def _check_day_of_use(self, data: dict[str, Any]) -> None:
        if "used_on" not in self.fields or "used_on" in self.errors:
            return
        used, on = data.get("used_on"), data.get("on")
        if data.get("evidence", "").strip() and used is None:
            self.add_error(
                "used_on", gettext("Give the day of the weld: on it rests how long the certificate stays valid.")
            )
        if used and on and used > on:
            self.add_error("used_on", gettext("It lies after the signature of %(on)s.") % {"on": on.isoformat()})

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        chosen = set(self.cleaned_data.get("use", ()))
        welds = tuple(entry for entry in self.entries if str(entry.pk) in chosen)
        said = {"said_knowingly": " ".join(self.cautions)} if self.cautions else {}
        made = super().signature(self.cleaned_data.get("evidence", "").strip(), said)
        return replace(made, welds=welds, used_on=self.cleaned_data.get("used_on"), used_with=self.processes())


class ProlongForm(SignedForm):
    """A prolongation under option b: two welds, tested, under the conditions of the test."""

    weld_1 = DateField(label=_("First weld made on"))
    weld_2 = DateField(label=_("Second weld made on"))
    tested_by = forms.ChoiceField(
        label=_("Tested by"),
        choices=[
            ("RT", _("radiography (RT)")),
            ("UT", _("ultrasonics (UT)")),
            ("destructive", _("destructive testing")),
        ],
    )
    reported_on = DateField(label=_("Test reports of"))
    conditions_reproduced = forms.BooleanField(
        label=_("The welds reproduced the conditions of the test"),
        help_text=_("All but thickness and outside diameter, which stay inside the range of the certificate."),
    )
    evidence = forms.CharField(
        label=_("Welds and test reports"),
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Numbers of both welds and of their reports, so that the welder and the WPS can be traced."),
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        on = data.get("on")
        for name, what in (("weld_1", "The weld"), ("weld_2", "The weld"), ("reported_on", "The report")):
            if on and data.get(name) and data[name] > on:
                self.add_error(
                    name,
                    gettext("%(what)s is dated after the signature of %(on)s.") % {"what": what, "on": on.isoformat()},
                )
        reported, welds = data.get("reported_on"), [data.get("weld_1"), data.get("weld_2")]
        if reported and any(weld and weld > reported for weld in welds):
            self.add_error("reported_on", gettext("The report is dated before one of the welds was made."))
        return data

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        data = self.cleaned_data
        said = {name: data[name].isoformat() for name in ("weld_1", "weld_2", "reported_on")}
        said |= {"tested_by": data["tested_by"], "conditions_reproduced": "yes"}
        return super().signature(data["evidence"], said)


class RenewForm(SignedForm):
    """A renewal test of a certificate that lives on use: passed or failed, and what comes after a revocation."""

    passed = forms.ChoiceField(label=_("Result"), choices=[("yes", _("passed")), ("no", _("failed"))])
    full_test = forms.BooleanField(
        label=_("A full test of the same kind"),
        required=False,
        help_text=_("As at the first time, not the short renewal."),
    )
    like_production = forms.BooleanField(label=_("Welded as the planned production work"), required=False)
    trained_on = DateField(
        label=_("Further training completed on"), required=False, help_text=_("After a failed renewal.")
    )
    evidence = forms.CharField(
        label=_("Test piece, report, examiner"), max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )
    knowingly = forms.BooleanField(label=_("I enter it knowingly"), required=False)

    field_order = ("on", "passed", "processes", "full_test", "like_production", "trained_on", "evidence",
                   "by_name", "by_role", "knowingly")  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["on"].label, self.fields["on"].help_text = "Tested on", "The day the test piece was welded."
        self.ask_for_processes()
        self.cautions = self._if_failed() if self.is_bound else []
        if not self.cautions:
            del self.fields["knowingly"]

    def _if_failed(self) -> list[str]:
        """What a failed test leaves to be decided, from the entries as typed; nothing where nothing is valid."""
        try:
            on = self.fields["on"].clean(self.data.get(self.add_prefix("on")))
        except forms.ValidationError:
            return []
        if self.data.get(self.add_prefix("passed")) != "no":
            return []
        field, name = self.fields.get("processes"), self.add_prefix("processes")
        ticked = field.widget.value_from_datadict(self.data, self.files, name) if field else []
        said = field.details(one for one in ticked if one in field.pairs) if isinstance(field, ProcessesField) else {}
        return events.questions_after(self.certificate, on, self.today, said, self.settings)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        short = data.get("passed") == "yes" and not data.get("full_test")
        if short and "processes" in self.fields and not data.get("processes"):
            self.add_error(
                "processes",
                gettext(
                    "Tick the processes that the test piece was welded with. "
                    "With none ticked only a full test counts, and then for all."
                ),
            )
        if self.cautions and not data.get("knowingly"):
            self.add_error("knowingly", " ".join([*self.cautions, gettext("Tick the box if that is so.")]))
        return data

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        data = self.cleaned_data
        said = {name: "yes" for name in ("full_test", "like_production") if data[name]}
        said |= {"said_knowingly": " ".join(self.cautions)} if self.cautions else {}
        said |= {"trained_on": data["trained_on"].isoformat()} if data["trained_on"] else {}
        said |= self.processes()
        return super().signature(data["evidence"], said)


class EndForm(SignedForm):
    """A revocation, or what ended option c. From the day given on, the certificate does not count."""

    kind = forms.ChoiceField(label=_("What happened"))
    reason = forms.CharField(label=_("Reason"), widget=forms.Textarea(attrs={"rows": 3}), max_length=1000)

    field_order = ("kind", "on", "reason", "by_name", "by_role")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["on"].label = "From"
        self.fields["on"].help_text = "From this day on, the day included, the certificate does not count."
        kinds = [Kind(kind) for kind in kinds_that_end(self.certificate)]
        self.fields["kind"].choices = [(kind.value, kind.label) for kind in kinds]


class CorrectForm(SignedForm):
    """Why an entry was a mistake."""

    reason = forms.CharField(
        label=_("Why the entry was a mistake"), widget=forms.Textarea(attrs={"rows": 3}), max_length=1000
    )

    field_order = ("reason", "on", "by_name", "by_role")
