"""The files in which the processes of the web keep their counts."""

import os
import re
from pathlib import Path

from django.conf import settings

OWNER = re.compile(r"_(\d+)\.db$")


def clear_counts() -> None:
    """Clear away the counts of processes that are gone: Prometheus takes a counter that falls for a restart."""
    for path in Path(settings.METRICS_DIR).glob("*.db"):
        found = OWNER.search(path.name)
        if found and not _lives(int(found[1])):
            path.unlink(missing_ok=True)


def _lives(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
