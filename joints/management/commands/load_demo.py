"""`manage.py load_demo`: fill an empty database with the invented shop."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError
from django.utils import timezone

from joints.demo.load import DataOnFile, load
from joints.demo.second_plant import load_second_plant
from register.demo import make_sign_ins
from register.management.base import RegisterCommand


class Command(RegisterCommand):
    """Safe to repeat: what was loaded before is left as it is. A database with data of its own is refused."""

    help = "Load the invented fabricator of the demonstration."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--plants", action="store_true", help="with its second plant, and who sees which of them")

    def handle(self, *args: Any, plants: bool, **options: Any) -> None:
        try:
            fresh = load(timezone.localdate())
        except DataOnFile as refusal:
            raise CommandError(str(refusal)) from refusal
        if plants:
            load_second_plant(timezone.localdate(), make_sign_ins())
        self.stdout.write("The demonstration is loaded." if fresh else "The demonstration was loaded before.")
