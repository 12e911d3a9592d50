"""The signing key of this installation: made once, kept in a file that only its owner can read."""

import os
import secrets
from pathlib import Path


def kept_secret(path: Path) -> str:
    """Return the key kept at path, making it first when there is none.

    Two processes starting together agree on one key: the file is linked into place whole, and the first wins.
    Raises OSError if the folder cannot be written.
    """
    if not path.exists():
        draft = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
        draft.touch(mode=0o600)
        draft.write_text(secrets.token_urlsafe(64), encoding="ascii")
        try:
            os.link(draft, path)
        except FileExistsError:
            pass
        finally:
            draft.unlink()
    return path.read_text(encoding="ascii").strip()
