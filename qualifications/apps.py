"""People, their certificates and what falls due."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class QualificationsConfig(AppConfig):
    """The `qualifications` app as Django knows it."""

    name = "qualifications"
    verbose_name = _("People")
    default_auto_field = "django.db.models.BigAutoField"
