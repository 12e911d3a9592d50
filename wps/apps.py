"""Test records of procedures, procedures and their revisions."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class WpsConfig(AppConfig):
    """The `wps` app as Django knows it."""

    name = "wps"
    verbose_name = _("Procedures")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Connect the receivers; say what the trail calls the kinds of sheets."""
        from register.trail.words import TOLD
        from wps import signals  # noqa: F401
        from wps.sheets import KINDS

        TOLD.update({("kind", token): words for token, words in KINDS.items()})
