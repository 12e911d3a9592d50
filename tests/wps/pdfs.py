"""Reading sheets back."""

import json
import re
from io import BytesIO
from typing import Any

from pypdf import PdfReader


def reader(data: bytes) -> PdfReader:
    """The PDF opened."""
    return PdfReader(BytesIO(data))


def text(data: bytes) -> str:
    """All its text, blanks made one."""
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader(data).pages))


def attached(data: bytes) -> dict[str, Any]:
    """The JSON that travels inside."""
    (content,) = next(iter(reader(data).attachments.values()))
    return json.loads(content)
