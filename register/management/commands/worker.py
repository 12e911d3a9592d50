"""`manage.py worker`: do the work that waits in the background."""

from argparse import ArgumentParser
from typing import Any

from register.background.worker import work_on
from register.management.base import RegisterCommand


class Command(RegisterCommand):
    """Runs until it is told to stop. Several may run, on PostgreSQL also on several machines."""

    help = "Do the work that waits in the background, until told to stop; with --until-empty, until none waits."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--until-empty", action="store_true", help="end when nothing waits")
        parser.add_argument("--interval", type=float, default=1.0, help="seconds between two looks (default: 1)")

    def handle(self, *args: Any, **options: Any) -> None:
        work_on(max(0.05, options["interval"]), options["until_empty"])
