"""What all commands have in common: where no register stands, they say so and name the remedy."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import Error, InterfaceError, OperationalError, ProgrammingError, connection

from register.base.errors import why_not_now
from register.health import not_ready

NO_REGISTER = 3
"""Exit code where there is no register that could answer."""


class RegisterCommand(BaseCommand):
    """A command that asks the register."""

    def execute(self, *args: Any, **options: Any) -> Any:
        try:
            return super().execute(*args, **options)
        except (OperationalError, ProgrammingError, InterfaceError) as fault:
            said = why_not(fault)
            if not said:
                raise
            raise CommandError(said, returncode=NO_REGISTER) from None


def why_not(fault: Exception) -> str:
    """Why the register cannot answer a command, with the remedy; "" where it stands, and the fault is another."""
    try:
        tables = connection.introspection.table_names()
    except Error:
        return "The database does not answer. Is its server running, and do DATABASE_URL and VAR_DIR name it?"
    if "django_migrations" not in tables:
        return (
            "No register stands here yet: run `manage.py setup`, or `manage.py restore FILE` to put one back from a "
            "backup. If there should be one, DATABASE_URL or VAR_DIR names another place."
        )
    if not_ready():
        return "The database is of an earlier version than the program: make a backup, then run `manage.py setup`."
    return why_not_now(fault) if isinstance(fault, OperationalError | InterfaceError) else ""
