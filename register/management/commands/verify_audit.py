"""`manage.py verify_audit`: is the audit trail whole? Exit 0 yes, 1 no, and the first break in words."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from register.management.base import RegisterCommand
from register.trail.verify import verify


class Command(RegisterCommand):
    """Note the end that it prints somewhere outside the register; give it back later with --expect."""

    help = "Verify the audit trail; print where it ends, or the first break."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--expect", default="", metavar="NUMBER:HASH", help="an end that was noted earlier")

    def handle(self, *args: Any, expect: str, **options: Any) -> None:
        try:
            found = verify(expect)
        except ValueError as refusal:
            raise CommandError(str(refusal), returncode=2) from refusal
        if found.problem:
            raise CommandError(f"The trail is broken after {found.entries} entries: {found.problem}", returncode=1)
        if found.differs:
            said = f"The trail is whole, but what is on file is not what it says: {found.differs}"
            raise CommandError(said, returncode=1)
        self.stdout.write(f"The trail is whole: {found.entries} entries, ending {found.end}")
