"""Jobs, assemblies, workstations and the welds on them."""

from django.apps import AppConfig


class JointsConfig(AppConfig):
    """The `joints` app as Django knows it."""

    name = "joints"
    verbose_name = "Joints"
    default_auto_field = "django.db.models.BigAutoField"
