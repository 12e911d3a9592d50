"""Addresses of the common ground that take arguments."""

from django.contrib.auth.models import User

SAMPLES = {
    "users:change": lambda: {"pk": User.objects.get(username="auditor").pk},
    "users:password": lambda: {"pk": User.objects.get(username="auditor").pk},
    "held:tables": lambda: {"package": "iso_9606_1_2012"},
    "calc:family": lambda: {"family": "heat"},
    "calc:sheet": lambda: {"family": "heat"},
    "held:reading": lambda: {"key": "iso_9606_1_mode_136"},
}

HARMLESS_POSTS = {"own_password": "changes one's own password and nothing else"}
