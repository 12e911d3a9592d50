"""The board as files beside the database: for SQLite, where all processes run on one machine.

While a transaction writes, SQLite lets no other connection write; a file can be written all the same.
"""

import fcntl
import json
import os
from contextlib import suppress
from pathlib import Path

from django.conf import settings

from register.background.board import WORKER, Said, key_of, new_name


class FileHold:
    """A locked file: the operating system drops the lock with the process."""

    def __init__(self, folder: Path, kind: str) -> None:
        self.name = new_name(kind)
        self._path = folder / f"{self.name}.lock"
        # Locked under another name first, so that nobody takes it for one whose holder died.
        unready = folder / f".{self.name}.new"
        self._file: int | None = os.open(unready, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600)
        fcntl.flock(self._file, fcntl.LOCK_EX)
        os.rename(unready, self._path)

    def alive(self) -> bool:
        """True until released: no other process can take the lock away, only the file."""
        return self._file is not None and self._path.exists()

    def release(self) -> None:
        """Give up the lock and its file."""
        if self._file is not None:
            self._path.unlink(missing_ok=True)
            os.close(self._file)
            self._file = None


class FileBoard:
    """Files in settings.BACKGROUND_DIR."""

    @property
    def folder(self) -> Path:
        """The folder, made where it is not there yet."""
        folder = Path(settings.BACKGROUND_DIR)
        folder.mkdir(parents=True, exist_ok=True)
        return folder

    def hold(self, kind: str) -> FileHold:
        return FileHold(self.folder, kind)

    def alive(self) -> frozenset[str]:
        return frozenset(key_of(path.stem) for path in self.folder.glob("*.lock") if _locked(path))

    def workers(self) -> int:
        return sum(_locked(path) for path in self.folder.glob(f"{WORKER}-*.lock"))

    def tell(self, work: int, said: Said) -> None:
        unready = self.folder / f".{work}.{os.getpid()}"
        # A full disk must not end the work: how far it is may stay unsaid.
        with suppress(OSError):
            unready.write_text(json.dumps([said.done, said.total, said.message]), encoding="utf-8")
            os.replace(unready, self.folder / f"{work}.said")

    def told(self, work: int) -> Said | None:
        try:
            return Said(*json.loads((self.folder / f"{work}.said").read_text(encoding="utf-8")))
        except (FileNotFoundError, ValueError, TypeError):
            return None

    def ask_cancel(self, work: int, by: str) -> None:
        (self.folder / f"{work}.cancel").write_text(by, encoding="utf-8")

    def cancel_asked(self, work: int) -> str:
        try:
            return (self.folder / f"{work}.cancel").read_text(encoding="utf-8")
        except FileNotFoundError:
            return ""

    def forget(self, work: int) -> None:
        for kind in ("said", "cancel"):
            (self.folder / f"{work}.{kind}").unlink(missing_ok=True)


def _locked(path: Path) -> bool:
    """True if a process holds the lock; the file of one that died is cleared away."""
    try:
        file = os.open(path, os.O_RDWR | os.O_CLOEXEC)
    except FileNotFoundError:
        return False
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    else:
        path.unlink(missing_ok=True)
        return False
    finally:
        os.close(file)
