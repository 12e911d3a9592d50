"""Common ground of the apps: settings, roles, health."""

from django.apps import AppConfig


class RegisterConfig(AppConfig):
    """The `register` app as Django knows it."""

    name = "register"
    verbose_name = "Register"
    default_auto_field = "django.db.models.BigAutoField"
