"""Jobs, assemblies, workstations and the welds on them."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class JointsConfig(AppConfig):
    """The `joints` app as Django knows it."""

    name = "joints"
    verbose_name = _("Joints")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Say what names a steel grade of the firm."""
        from joints.own_grades import joints_in
        from register.held.grades import count_uses

        count_uses.append(joints_in)
