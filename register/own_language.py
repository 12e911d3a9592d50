"""The language of what is sent to an account: that in which the register spoke at its last sign-in.

A page speaks the language that the browser asks for. A mail and a calendar have no browser that asks, so what was
asked for last is kept. Without a row, or where the language has no catalogue any more, it is the register's own.
"""

from typing import Any

from django.conf import settings
from django.contrib.auth.signals import user_logged_in
from django.db import models
from django.dispatch import receiver
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _


class OwnLanguage(models.Model):
    """One account's language."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="own_language")
    language = models.CharField(_("language"), max_length=16)

    def __str__(self) -> str:
        return f"{self.user}: {self.language}"


@receiver(user_logged_in)
def keep(sender: Any, user: Any, **kwargs: Any) -> None:
    """Keep the language of a sign-in, where there is a choice of languages."""
    spoken = get_language()
    if spoken and len(settings.LANGUAGES) > 1:
        OwnLanguage.objects.update_or_create(user=user, defaults={"language": spoken[:16]})


def language_of(user: Any) -> str:
    """The code of the language in which to write to an account."""
    kept = OwnLanguage.objects.filter(user=user).values_list("language", flat=True).first()
    return kept if kept in dict(settings.LANGUAGES) else settings.LANGUAGE_CODE


def language_at(address: str) -> str:
    """The code of the language in which to write to a mail address: that of the account which has it."""
    kept = OwnLanguage.objects.filter(user__email__iexact=address, user__is_active=True).order_by("user")
    found = kept.values_list("language", flat=True).first()
    return found if found in dict(settings.LANGUAGES) else settings.LANGUAGE_CODE
