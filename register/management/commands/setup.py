"""`manage.py setup`: bring database and static files up to date, and load the demonstration if asked."""

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management import call_command, get_commands
from django.db import transaction

from register.demo import listing, make_sign_ins
from register.management.base import RegisterCommand
from register.metrics.files import clear_counts


class Command(RegisterCommand):
    """Safe to repeat: what is done already is left as it is."""

    help = "Migrate, collect static files, make the groups; with --demo also load invented data."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--demo", action="store_true", help="load the invented shop and its sign-ins")
        parser.add_argument("--one-plant", action="store_true", help="of the invented shop its first works only")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", interactive=False, verbosity=0)
        clear_counts()
        call_command("collectstatic", interactive=False, verbosity=0)
        self.stdout.write(f"Database ready: {settings.DATABASES['default']['NAME']}")
        if options["demo"]:
            self.load_demo(plants=not options["one_plant"])

    def load_demo(self, plants: bool) -> None:
        """Accounts first, since the invented records name them as authors and approvers."""
        with transaction.atomic():
            make_sign_ins()
        if "load_demo" in get_commands():
            call_command("load_demo", plants=plants, stdout=self.stdout, stderr=self.stderr)
        self.stdout.write(f"Sign in as\n{listing()}")
