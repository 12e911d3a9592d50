"""The bytes of what was issued or printed, given out only where they are still those."""

import logging
from hashlib import sha256
from typing import Any

from django.core.exceptions import BadRequest

log = logging.getLogger("register.papers")


class Altered(BadRequest):
    """What is on file is not what was issued; the message is for whoever wanted it."""


def bytes_of(row: Any) -> bytes:
    """The PDF of an issued sheet or a printed paper (`pdf`, `sha256`, `check_code`). Raises Altered."""
    data = bytes(row.pdf)
    if sha256(data).hexdigest() != row.sha256:
        log.error("%s is not what was issued: it is not given out.", row)
        raise Altered(
            f"What is on file under the check code {row.check_code} is not what was issued: it was changed past the "
            "register. Do not use it; the welding coordinator verifies the trail."
        )
    return data
