"""`manage.py import_register FILE.zip`: an export into an empty register, all of it or nothing."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from register.exchange.archive import BadExport
from register.exchange.take_in import NotEmpty, take_in
from register.management.base import RegisterCommand
from register.trail.verify import verify


class Command(RegisterCommand):
    """Accounts come without passwords; `add_user NAME --role coordinator --new-password` lets the first one in."""

    help = "Read an export into an empty register; every checksum is verified before anything is touched."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        if not file.is_file():
            raise CommandError(f"There is no file {file}.")
        try:
            done = take_in(file.resolve())
        except (BadExport, NotEmpty) as refusal:
            raise CommandError(f"{refusal} Nothing was taken in.") from refusal
        trail = verify(done.trail_end)
        self.stdout.write(f"Took in {done.rows} rows and {done.files} files")
        self.stdout.write(f"The trail is whole: {trail.entries} entries, the last one says that this was taken in")
        self.stdout.write("Accounts have no passwords yet: add_user NAME --role coordinator --new-password")
