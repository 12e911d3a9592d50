"""Test records of procedures, procedures and their revisions."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class WpsConfig(AppConfig):
    """The `wps` app as Django knows it."""

    name = "wps"
    verbose_name = _("Procedures")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Connect the receivers."""
        from wps import signals  # noqa: F401
