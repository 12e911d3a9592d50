"""What the commands have in common that write the whole register to one new file."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from register.management.base import RegisterCommand


class WholeFileCommand(RegisterCommand):
    """Note the checksum and the end of the trail that it prints somewhere outside."""

    what = "file"
    refusals: tuple[type[Exception], ...] = ()
    """What `write` raises besides FileExistsError where it refuses in words for the user."""
    after_refusal = ""

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def write(self, file: Path) -> Any:
        """Write it, and return what it says of itself: sha256 and trail_end. Raises FileExistsError, OSError."""
        raise NotImplementedError

    def said(self, done: Any, file: Path) -> str:
        """What was written, in a line."""
        raise NotImplementedError

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        if not file.parent.is_dir():
            raise CommandError(f"There is no folder {file.parent}.")
        try:
            done = self.write(file.resolve())
        except (FileExistsError, *self.refusals) as refusal:
            raise CommandError(f"{refusal}{self.after_refusal}") from refusal
        except OSError as fault:
            raise CommandError(f"The {self.what} could not be written: {fault}. Nothing is left of it.") from fault
        self.stdout.write(self.said(done, file))
        self.stdout.write(f"SHA-256 {done.sha256}\ntrail   {done.trail_end}")
