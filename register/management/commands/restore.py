"""`manage.py restore FILE.tar.gz`: put the register back from a backup. Refuses where there is data."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from register.backup.archive import BadBackup
from register.backup.databases import DatabaseFault
from register.backup.whole import NotEmpty, restore
from register.management.base import RegisterCommand
from register.trail.verify import verify


class Command(RegisterCommand):
    """Stop the register first; start it again afterwards."""

    help = "Put database and files back from an archive; every checksum is verified before anything is touched."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--replace", action="store_true", help="lose what the database holds now")

    def handle(self, *args: Any, file: Path, replace: bool, **options: Any) -> None:
        if not file.is_file():
            raise CommandError(f"There is no file {file}.")
        try:
            done = restore(file.resolve(), replace)
        except (BadBackup, NotEmpty, DatabaseFault) as refusal:
            raise CommandError(str(refusal)) from refusal
        trail = verify(done.trail_end)
        if not trail.whole:
            raise CommandError(f"Restored, but the trail is broken: {trail.problem}")
        self.stdout.write(f"Restored the backup of {done.made_at}: database and {done.files} files")
        self.stdout.write(f"The trail is whole: {trail.entries} entries")
