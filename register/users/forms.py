"""Forms of accounts: a new one, a change, a new password."""

from typing import Any

from django import forms
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.base.context import ROLE_NAMES
from register.plants.models import Plant
from register.plants.reach import current
from register.roles import Role
from register.users.accounts import plant_roles_of, roles_of

CHOICES = [(role.value, ROLE_NAMES[role]) for role in Role]


class PasswordMixin(forms.Form):
    """A first or new password, to be told to its owner, who changes it."""

    password = forms.CharField(
        label=_("New password"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text=_("At least 10 characters. Tell it to the owner of the account, who then chooses another."),
    )

    def clean_password(self) -> str:
        given: str = self.cleaned_data["password"]
        validate_password(given, getattr(self, "instance", None))
        return given


class AccountForm(forms.ModelForm):  # type: ignore[type-arg]
    """Name, roles, and whether the account may sign in."""

    roles = forms.MultipleChoiceField(
        label=_("Roles"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=CHOICES,
        help_text=_(
            "Coordinators write, check and approve procedures, take in joints and make accounts; quality assurance "
            "signs confirmations and prints sheets; supervisors keep the weld log and confirm their own people; "
            "auditors read everything. Without a role an account sees nothing."
        ),
    )

    class Meta:
        model = User
        fields = ("username", "first_name", "last_name", "email", "is_active")
        labels = {"username": "Name to sign in with", "email": "E-mail", "is_active": "May sign in"}
        error_messages = {
            "username": {"unique": _("Somebody signs in with this name already; choose another.")},
        }
        help_texts = {"username": "", "is_active": "Accounts are switched off, never deleted: records name them."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.pk:
            self.fields["roles"].initial = roles_of(self.instance)
            # Records and the trail keep the name as text; it stays what it was when they were signed.
            self.fields["username"].disabled = True
        if current().several:
            self._ask_by_plant()

    def _ask_by_plant(self) -> None:
        """Roles at each plant in sight; those for the whole group only where all are."""
        plants = current().plants
        held = plant_roles_of(self.instance) if self.instance.pk else {}
        if plants is not None:
            del self.fields["roles"]
        else:
            self.fields["roles"].label = gettext("Roles at all plants")
        for plant in Plant.objects.all() if plants is None else Plant.objects.filter(pk__in=sorted(plants)):
            field = forms.MultipleChoiceField(
                label=gettext("Roles at %(plant)s") % {"plant": plant},
                required=False,
                widget=forms.CheckboxSelectMultiple,
                choices=CHOICES,
            )
            field.initial = held.get(plant.pk, [])
            field.required = plants is not None
            self.fields[f"roles_{plant.pk}"] = field
        order = [*self.fields]
        after = order.index("email") + 1
        asked = [name for name in order if name.startswith("roles")]
        self.order_fields(
            [n for n in order[:after] if n not in asked] + asked + [n for n in order[after:] if n not in asked]
        )

    @property
    def for_all(self) -> list[str]:
        """The roles for the whole firm."""
        return list(self.cleaned_data.get("roles", []))

    @property
    def at(self) -> dict[int, list[str]]:
        """The roles at single plants, by key of the plant."""
        found = {name: given for name, given in self.cleaned_data.items() if name.startswith("roles_")}
        return {int(name.removeprefix("roles_")): given for name, given in found.items()}


class NewAccountForm(PasswordMixin, AccountForm):
    """A new account with its first password."""

    field_order = ("username", "first_name", "last_name", "email", "roles", "is_active", "password")


class PasswordForm(PasswordMixin):
    """A new password for somebody who forgot theirs."""

    def __init__(self, *args: Any, instance: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance = instance


class NothingElse(forms.Form):
    """An act on an account that asks for the signature alone."""

    def __init__(self, *args: Any, instance: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance = instance
