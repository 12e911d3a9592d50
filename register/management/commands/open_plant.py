"""`manage.py open_plant "North works" --first "Main works" --group marta`: from now on the firm has several plants."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from register.management.base import RegisterCommand
from register.plants.opening import open_plant


class Command(RegisterCommand):
    """With the second plant, accounts keep their roles at the first one only, but for those named with --group."""

    help = "Open another plant of the firm, and say who sees all of them."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="of the new plant")
        parser.add_argument("--place", default="", help="its town or address")
        parser.add_argument("--first", default="", help="what the first plant is called from now on")
        parser.add_argument(
            "--group", action="append", default=[], help="an account that keeps its roles at all plants"
        )

    def handle(self, *args: Any, name: str, place: str, first: str, group: list[str], **options: Any) -> None:
        try:
            plant = open_plant(name, place, first, group)
        except ValueError as refusal:
            raise CommandError(str(refusal)) from refusal
        self.stdout.write(f"{plant} is open. Give roles there with add_user --plant, or on the page of accounts.")
