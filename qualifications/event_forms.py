"""Forms that sign an event: date, name, evidence, and what must be said knowingly."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms

from qualifications import events
from qualifications.events import Signature
from qualifications.models import Certificate, CertificateEvent, WeldLogEntry
from register.base.forms import DateField
from register.roles import Capability, can

Kind = CertificateEvent.Kind


def full_name(user: Any) -> str:
    """The name a signature is entered with."""
    return user.get_full_name() or user.get_username()


class SignedForm(forms.Form):
    """The common ground: a day, a name and a position. A supervisor signs in the own name only."""

    on = DateField(label="Signed on", help_text="The day of the signature, not later than today.")
    by_name = forms.CharField(label="Signed by", max_length=150)
    by_role = forms.CharField(label="In the position of", max_length=120, required=False)

    def __init__(self, *args: Any, certificate: Certificate, user: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.certificate, self.user, self.today = certificate, user, today
        self.fields["on"].initial = today
        self.fields["by_name"].initial = full_name(user)
        if not can(user, Capability.RECORD_CONFIRMATION):
            self.fields["by_name"].disabled = True

    def clean_on(self) -> date:
        on: date = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(f"{on.isoformat()} is later than today; nobody signs in advance.")
        return on

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        """The signature as entered."""
        data = self.cleaned_data
        return Signature(data["on"], data["by_name"].strip(), self.user, data["by_role"], evidence, details or {})


class ConfirmForm(SignedForm):
    """A confirmation: evidence from the weld log, ticked, or in words; late entries only knowingly."""

    use = forms.MultipleChoiceField(
        label="Evidence from the weld log", required=False, widget=forms.CheckboxSelectMultiple
    )
    evidence = forms.CharField(
        label="Further evidence, in words",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="At least one weld inside the range in the last six months: job, joint, date, WPS.",
    )
    knowingly = forms.BooleanField(label="I enter it knowingly", required=False)

    def __init__(self, *args: Any, entries: Sequence[WeldLogEntry] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entries = tuple(entries)
        self.fields["use"].choices = [(str(entry.pk), entry.text) for entry in self.entries]
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
        self.cautions = events.cautions(self.certificate, on, self.today)
        return self.cautions

    def clean_on(self) -> date:
        on = super().clean_on()
        problem = events.obstacle(self.certificate, on, self.today)
        if problem:
            raise forms.ValidationError(problem)
        return on

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not data.get("evidence", "").strip() and not data.get("use"):
            text = "State the evidence: tick an entry of the weld log, or write job, joint, date and WPS of one weld."
            self.add_error("evidence", text)
        if self.cautions and not data.get("knowingly"):
            self.add_error("knowingly", " ".join(self.cautions) + " Tick the box if that is so.")
        return data

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        chosen = set(self.cleaned_data.get("use", ()))
        welds = [entry.text for entry in self.entries if str(entry.pk) in chosen]
        words = self.cleaned_data.get("evidence", "").strip()
        said = {"weld_log": ",".join(sorted(chosen, key=int))} if chosen else {}
        said |= {"said_knowingly": " ".join(self.cautions)} if self.cautions else {}
        return super().signature("\n".join([*welds, *([words] if words else [])]), said)


class ProlongForm(SignedForm):
    """A prolongation under option b: two welds, tested, under the conditions of the test."""

    weld_1 = DateField(label="First weld made on")
    weld_2 = DateField(label="Second weld made on")
    tested_by = forms.ChoiceField(
        label="Tested by",
        choices=[("RT", "radiography (RT)"), ("UT", "ultrasonics (UT)"), ("destructive", "destructive testing")],
    )
    reported_on = DateField(label="Test reports of")
    conditions_reproduced = forms.BooleanField(
        label="The welds reproduced the conditions of the test",
        help_text="All but thickness and outside diameter, which stay inside the range of the certificate.",
    )
    evidence = forms.CharField(
        label="Welds and test reports",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Numbers of both welds and of their reports, so that the welder and the WPS can be traced.",
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        on = data.get("on")
        for name, what in (("weld_1", "The weld"), ("weld_2", "The weld"), ("reported_on", "The report")):
            if on and data.get(name) and data[name] > on:
                self.add_error(name, f"{what} is dated after the signature of {on.isoformat()}.")
        reported, welds = data.get("reported_on"), [data.get("weld_1"), data.get("weld_2")]
        if reported and any(weld and weld > reported for weld in welds):
            self.add_error("reported_on", "The report is dated before one of the welds was made.")
        return data

    def signature(self, evidence: str = "", details: dict[str, str] | None = None) -> Signature:
        data = self.cleaned_data
        said = {name: data[name].isoformat() for name in ("weld_1", "weld_2", "reported_on")}
        said |= {"tested_by": data["tested_by"], "conditions_reproduced": "yes"}
        return super().signature(data["evidence"], said)


class EndForm(SignedForm):
    """A revocation, or what ended option c. From the day given on, the certificate does not count."""

    kind = forms.ChoiceField(label="What happened")
    reason = forms.CharField(label="Reason", widget=forms.Textarea(attrs={"rows": 3}), max_length=1000)

    field_order = ("kind", "on", "reason", "by_name", "by_role")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["on"].label = "From"
        self.fields["on"].help_text = "From this day on, the day included, the certificate does not count."
        ends = [Kind.MANUFACTURER_CHANGED, Kind.ISO_3834_LOST, Kind.QUALITY_NOT_SHOWN]
        kinds = [Kind.REVOCATION, *(ends if self.certificate.option == Certificate.Option.C else [])]
        self.fields["kind"].choices = [(kind.value, kind.label) for kind in kinds]


class CorrectForm(SignedForm):
    """Why an entry was a mistake."""

    reason = forms.CharField(
        label="Why the entry was a mistake", widget=forms.Textarea(attrs={"rows": 3}), max_length=1000
    )

    field_order = ("reason", "on", "by_name", "by_role")
