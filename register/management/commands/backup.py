"""`manage.py backup FILE.tar.gz`: the whole register in one checksummed archive, while it is in use."""

from pathlib import Path

from register.backup.databases import DatabaseFault
from register.backup.whole import Done, backup
from register.management.whole_file import WholeFileCommand


class Command(WholeFileCommand):
    """Prints the checksum and the end of the trail."""

    help = "Write database and files to one archive; never overwrites."
    what, refusals = "backup", (DatabaseFault,)

    def write(self, file: Path) -> Done:
        return backup(file)

    def said(self, done: Done, file: Path) -> str:
        return f"Backed up to {file}: database and {done.files} files"
