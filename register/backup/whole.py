"""The whole of it: back up database and files to one archive, and restore them from one."""

import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from register.audit import record_act
from register.background.sweep import drop_unfinished
from register.backup import archive, databases
from register.backup.archive import BadBackup
from register.models import AuditHead


class NotEmpty(ValueError):
    """There is data in the way; the message names it."""


@dataclass(frozen=True, slots=True)
class Done:
    """What was backed up or restored."""

    sha256: str
    files: int
    made_at: str
    trail_end: str


def folders() -> dict[str, Path]:
    """The folders whose files belong to the records, by the name they have in an archive."""
    return {name: Path(path) for name, path in settings.BACKED_UP_FOLDERS.items()}


def backup(target: Path) -> Done:
    """Write an archive of the register as it stands now. Raises FileExistsError, DatabaseFault."""
    about = {
        "version": settings.VERSION,
        "made_at": timezone.now().isoformat(),
        "database_kind": connection.vendor,
        "migrations": sorted(map(list, MigrationRecorder(connection).applied_migrations())),
        "trail_end": str(AuditHead.objects.filter(pk=1).first() or ""),
    }
    present = {name: path for name, path in folders().items() if path.is_dir()}
    with tempfile.TemporaryDirectory(prefix="backup-", dir=target.parent) as drafts:
        digest = archive.pack(target, databases.dump(Path(drafts)), present, about)
    files = sum(1 for path in present.values() for _ in archive.walk(path))
    return Done(digest, files, about["made_at"], about["trail_end"])


def restore(source: Path, replace: bool = False) -> Done:
    """Put a register back from an archive: checked whole first, then files, database, newer migrations.

    Raises BadBackup, NotEmpty unless `replace`, DatabaseFault. Folders in the way are set aside, never deleted.
    """
    with tempfile.TemporaryDirectory(prefix="restore-", dir=settings.VAR_DIR) as unpacked:
        manifest = archive.unpack(source, Path(unpacked))
        _check_known(manifest)
        if not replace:
            _check_empty()
        dump = Path(unpacked, manifest["database"])
        databases.load(dump)
        placed = _place_files(Path(unpacked, archive.FILES))
    call_command("migrate", interactive=False, verbosity=0)
    made_at, digest = manifest["made_at"], archive.sha256(source)
    with transaction.atomic():
        drop_unfinished()
        record_act(None, "restored the register", note=f"from the backup of {made_at}, SHA-256 {digest}")
    return Done(digest, placed, made_at, manifest["trail_end"])


def _check_known(manifest: dict[str, Any]) -> None:
    """A backup of a later version holds what this one does not understand."""
    known = MigrationLoader(None, ignore_no_migrations=True).disk_migrations.keys()
    unknown = sorted(f"{app}.{name}" for app, name in manifest["migrations"] if (app, name) not in known)
    if unknown:
        said = f"The backup is of version {manifest['version']}, which knows {unknown[0]}; this is {settings.VERSION}."
        raise BadBackup(f"{said} Install that version or a later one.")
    if manifest["database"] != databases.DUMPS[connection.vendor]:
        raise BadBackup(f"The backup is of {manifest['database_kind']}; this register runs on {connection.vendor}.")


def _check_empty() -> None:
    held = databases.holds_data()
    held += [str(path) for path in folders().values() if path.is_dir() and any(archive.walk(path))]
    if held:
        raise NotEmpty(
            f"This register holds data ({', '.join(held[:3])}); nothing was restored. Give --replace to lose it."
        )


def _place_files(unpacked: Path) -> int:
    """Put each folder in its place, the one that is there beside it; return the number of files."""
    stamp, placed = f"{timezone.now():%Y%m%d-%H%M%S}", 0
    for name, path in folders().items():
        fresh = unpacked / name
        fresh.mkdir(parents=True, exist_ok=True)
        placed += sum(1 for _ in archive.walk(fresh))
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists():
            os.rename(path, path.with_name(f"{path.name}.before-restore-{stamp}"))
        os.rename(fresh, path)
    return placed
