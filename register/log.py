"""Log lines: for the eye, or one JSON object a line for a collector, each with the id of its request."""

import json
import logging
from contextvars import ContextVar
from datetime import UTC, datetime
from typing import Any

request_id: ContextVar[str] = ContextVar("request_id", default="-")
"""The id of the request that is being answered; "-" outside of one."""

PLAIN = frozenset(vars(logging.makeLogRecord({}))) | {"message", "asctime", "request_id", "taskName"}


class RequestId(logging.Filter):
    """Puts the id of the request into every record."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.request_id = request_id.get()
        return True


class JsonLines(logging.Formatter):
    """One JSON object a line: time in UTC, level, logger, request id, message, what was given in `extra`, the fault."""

    def format(self, record: logging.LogRecord) -> str:
        said: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "logger": record.name,
            "request_id": getattr(record, "request_id", "-"),
            "message": record.getMessage(),
        }
        said |= {key: value for key, value in vars(record).items() if key not in PLAIN and key not in said}
        if record.exc_info:
            said["fault"] = self.formatException(record.exc_info)
        return json.dumps(said, default=str, ensure_ascii=False)


def logging_settings(form: str, level: str) -> dict[str, Any]:
    """Django's LOGGING: everything to stderr, as "line" or "json". Raises ValueError for another form."""
    formatters = {
        "line": {"format": "{asctime} {levelname} {request_id} {name} {message}", "style": "{"},
        "json": {"()": "register.log.JsonLines"},
    }
    if form not in formatters:
        raise ValueError(f"LOG_FORMAT is line or json, not {form!r}.")
    handler = {"class": "logging.StreamHandler", "formatter": form, "filters": ["request_id"]}
    # These tell at length how they read fonts; what goes wrong they still say.
    quiet = {name: {"level": "ERROR"} for name in ("weasyprint", "fontTools")}
    # Our own line tells more than Django's about a refused request; its faults (ERROR, with the traceback) stay.
    quiet["django.request"] = {"level": "ERROR"}
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "filters": {"request_id": {"()": "register.log.RequestId"}},
        "formatters": {form: formatters[form]},
        "handlers": {"console": handler},
        "loggers": quiet,
        "root": {"handlers": ["console"], "level": level},
    }
