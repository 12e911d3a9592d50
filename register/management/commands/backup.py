"""`manage.py backup FILE.tar.gz`: the whole register in one checksummed archive, while it is in use."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from register.backup.databases import DatabaseFault
from register.backup.whole import backup


class Command(BaseCommand):
    """Note the checksum and the end of the trail that it prints somewhere outside."""

    help = "Write database and files to one archive; never overwrites."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        if not file.parent.is_dir():
            raise CommandError(f"There is no folder {file.parent}.")
        try:
            done = backup(file.resolve())
        except (FileExistsError, DatabaseFault) as refusal:
            raise CommandError(str(refusal)) from refusal
        except OSError as fault:
            raise CommandError(f"The backup could not be written: {fault}. Nothing is left of it.") from fault
        self.stdout.write(f"Backed up to {file}: database and {done.files} files")
        self.stdout.write(f"SHA-256 {done.sha256}\ntrail   {done.trail_end}")
