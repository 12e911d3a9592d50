"""People, their certificates and what falls due."""

from django.apps import AppConfig


class QualificationsConfig(AppConfig):
    """The `qualifications` app as Django knows it."""

    name = "qualifications"
    verbose_name = "People"
    default_auto_field = "django.db.models.BigAutoField"
