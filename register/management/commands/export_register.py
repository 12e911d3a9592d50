"""`manage.py export_register FILE.zip`: everything in an open form, while it is in use."""

from pathlib import Path

from register.evidence.store import Damaged
from register.exchange.take_out import Done, take_out
from register.management.whole_file import WholeFileCommand


class Command(WholeFileCommand):
    """Prints the checksum and the end of the trail."""

    help = "Write all records and files as JSON lines and files by hash (docs/exchange.md); never overwrites."
    what, refusals, after_refusal = "export", (Damaged,), " Nothing was written."

    def write(self, file: Path) -> Done:
        return take_out(file)

    def said(self, done: Done, file: Path) -> str:
        return f"Exported to {file}: {done.rows} rows and {done.files} files"
