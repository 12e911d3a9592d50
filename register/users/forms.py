"""Forms of accounts: a new one, a change, a new password."""

from typing import Any

from django import forms
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password

from register.base.context import ROLE_NAMES
from register.roles import Role
from register.users.accounts import roles_of


class PasswordMixin(forms.Form):
    """A first or new password, to be told to its owner, who changes it."""

    password = forms.CharField(
        label="New password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 10 characters. Tell it to the owner of the account, who sets one of the own.",
    )

    def clean_password(self) -> str:
        given: str = self.cleaned_data["password"]
        validate_password(given, getattr(self, "instance", None))
        return given


class AccountForm(forms.ModelForm):  # type: ignore[type-arg]
    """Name, roles, and whether the account may sign in."""

    roles = forms.MultipleChoiceField(
        label="Roles",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=[(role.value, ROLE_NAMES[role]) for role in Role],
        help_text="Without a role an account sees nothing.",
    )

    class Meta:
        model = User
        fields = ("username", "first_name", "last_name", "email", "is_active")
        labels = {"username": "Name to sign in with", "email": "E-mail", "is_active": "May sign in"}
        help_texts = {"username": "", "is_active": "Accounts are switched off, never deleted: records name them."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.pk:
            self.fields["roles"].initial = roles_of(self.instance)
            # Records and the trail keep the name as text; it stays what it was when they were signed.
            self.fields["username"].disabled = True


class NewAccountForm(PasswordMixin, AccountForm):
    """A new account with its first password."""

    field_order = ("username", "first_name", "last_name", "email", "roles", "is_active", "password")


class PasswordForm(PasswordMixin):
    """A new password for somebody who forgot theirs."""

    def __init__(self, *args: Any, instance: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance = instance
