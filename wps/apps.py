"""Test records of procedures, procedures and their revisions."""

from django.apps import AppConfig


class WpsConfig(AppConfig):
    """The `wps` app as Django knows it."""

    name = "wps"
    verbose_name = "Procedures"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Connect the receivers."""
        from wps import signals  # noqa: F401
