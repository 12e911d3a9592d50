"""`manage.py load_demo`: fill an empty database with the invented shop."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from joints.demo.load import DataOnFile, load


class Command(BaseCommand):
    """Safe to repeat: what was loaded before is left as it is. A database with data of its own is refused."""

    help = "Load the invented fabricator of the demonstration."

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            fresh = load(timezone.localdate())
        except DataOnFile as refusal:
            raise CommandError(str(refusal)) from refusal
        self.stdout.write("The demonstration is loaded." if fresh else "The demonstration was loaded before.")
