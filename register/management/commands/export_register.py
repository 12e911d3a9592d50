"""`manage.py export_register FILE.zip`: everything in an open form, while it is in use."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from register.evidence.store import Damaged
from register.exchange.take_out import take_out


class Command(BaseCommand):
    """Prints the checksum and the end of the trail; note them outside."""

    help = "Write all records and files as JSON lines and files by hash (docs/exchange.md); never overwrites."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        if not file.parent.is_dir():
            raise CommandError(f"There is no folder {file.parent}.")
        try:
            done = take_out(file.resolve())
        except (FileExistsError, Damaged) as refusal:
            raise CommandError(f"{refusal} Nothing was written.") from refusal
        except OSError as fault:
            raise CommandError(f"The export could not be written: {fault}. Nothing is left of it.") from fault
        self.stdout.write(f"Exported to {file}: {done.rows} rows and {done.files} files")
        self.stdout.write(f"SHA-256 {done.sha256}\ntrail   {done.trail_end}")
