"""Forms for people and for the weld log."""

from datetime import date
from typing import Any

from django import forms
from django.contrib.auth.models import User
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names, tokens
from qualifications.models import Person, WeldLogEntry
from register.base.forms import DateField
from register.plants.reach import current
from register.plants.standing import holders
from register.roles import Role


def choices_of(vocabulary: str, blank: str = "not stated") -> list[tuple[str, str]]:
    """The terms of a vocabulary as choices, both names together, the empty one first."""
    return [("", blank), *((token, both_names(vocabulary, token)) for token in tokens(vocabulary))]


class SupervisorField(forms.ModelChoiceField):
    """A user with the role of a supervisor, by full name."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(User.objects.none(), **kwargs)

    def offer_those_in_reach(self) -> None:
        """Those of the plant at which the work at hand is. Called by each form when it is made."""
        held = holders(Role.SUPERVISOR.value, current().plants)
        self.queryset = held.order_by("last_name", "username")

    def label_from_instance(self, obj: User) -> str:
        return obj.get_full_name() or obj.get_username()


class PersonForm(forms.ModelForm):
    """Who somebody is, where they work, and to whom they report."""

    supervisor = SupervisorField(
        required=False, label=_("Reports to"), help_text=_("The supervisor who may confirm this person's certificates.")
    )
    born_on = DateField(required=False, label=_("Date of birth"))
    left_on = DateField(
        required=False, label=_("Last day of work"), help_text=_("Certificates count up to this day, the day included.")
    )

    class Meta:
        model = Person
        fields = (
            "name",
            "identification",
            "born_on",
            "born_in",
            "employer",
            "site",
            "supervisor",
            "active",
            "left_on",
            "notes",
        )
        labels = {"active": "Works here"}
        error_messages = {
            "identification": {"unique": _("Somebody on file has this already; each stamp is one person's.")}
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["supervisor"].offer_those_in_reach()

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("active") is False and not data.get("left_on") and "left_on" not in self.errors:
            self.add_error("left_on", gettext("Whoever no longer works here needs a last day of work: give the date."))
        if data.get("born_on") and data["born_on"] > timezone.localdate():
            self.add_error("born_on", gettext("This day is still to come; the date of birth lies in the past."))
        return data


PERSON_PLAN = (
    (_("Who"), ("name", "identification", "born_on", "born_in")),
    (_("Where"), ("employer", "site", "supervisor")),
    (_("Still here"), ("active", "left_on", "notes")),
)


class WeldLogForm(forms.ModelForm):
    """One entry: who welded what, with which process, on which day."""

    on = DateField(label=_("Welded on"))
    process = forms.ChoiceField(choices=choices_of("process", "choose one"))
    mechanisation = forms.ChoiceField(choices=choices_of("mechanisation", "choose one"))
    weld_type = forms.ChoiceField(choices=choices_of("weld_type"), required=False, label=_("Type of weld"))
    position = forms.ChoiceField(choices=choices_of("position"), required=False)

    class Meta:
        model = WeldLogEntry
        fields = (
            "person",
            "on",
            "process",
            "mechanisation",
            "weld_type",
            "position",
            "joint",
            "wps",
            "workstation",
            "note",
        )
        widgets = {"note": forms.Textarea(attrs={"rows": 2})}

    def __init__(self, *args: Any, people: Any, today: date | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today or timezone.localdate()
        self.fields["person"].queryset = people

    def clean_on(self) -> date:
        on: date = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(
                gettext("%(on)s is later than today: enter what has been welded already.") % {"on": on.isoformat()}
            )
        return on

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        person, on = data.get("person"), data.get("on")
        if person and on and person.left_on and on > person.left_on:
            self.add_error(
                "on",
                gettext("%(name)s's last day of work was %(left_on)s.")
                % {"name": person.name, "left_on": person.left_on.isoformat()},
            )
        return data


LOG_PLAN = (
    (_("Who and when"), ("person", "on")),
    (_("How"), ("process", "mechanisation", "weld_type", "position")),
    (_("What"), ("joint", "wps", "workstation", "note")),
)


class ReasonForm(forms.Form):
    """A reason, for acts that need one."""

    reason = forms.CharField(widget=forms.Textarea(attrs={"rows": 3}), max_length=1000)
