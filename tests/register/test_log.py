"""Log lines as JSON, for a collector."""

import json
import logging
import sys

import pytest

from register.log import JsonLines, RequestId, logging_settings, request_id


def line(message: str, *arguments: object, **said: object) -> dict[str, object]:
    logger = logging.getLogger("register.tests")
    record = logger.makeRecord(logger.name, logging.WARNING, __file__, 1, message, arguments, None, extra=said)
    RequestId().filter(record)
    text = JsonLines().format(record)
    assert "\n" not in text
    found: dict[str, object] = json.loads(text)
    return found


def test_a_line_is_one_object() -> None:
    found = line("sheet %s issued\nat once", "WPS 001", path="/x/", ms=3)
    assert found["message"] == "sheet WPS 001 issued\nat once"
    assert (found["level"], found["logger"], found["request_id"]) == ("WARNING", "register.tests", "-")
    assert (found["path"], found["ms"]) == ("/x/", 3)
    assert str(found["time"]).endswith("+00:00")
    assert set(found) == {"time", "level", "logger", "request_id", "message", "path", "ms"}


def test_the_id_of_the_request_is_in_it() -> None:
    token = request_id.set("abc-123456")
    try:
        assert line("x")["request_id"] == "abc-123456"
    finally:
        request_id.reset(token)


def test_a_fault_is_in_it() -> None:
    try:
        raise ValueError("broken")
    except ValueError:
        record = logging.LogRecord("x", logging.ERROR, __file__, 1, "fault", None, sys.exc_info())
    assert "ValueError: broken" in json.loads(JsonLines().format(record))["fault"]


def test_the_makers_of_pdf_are_quiet() -> None:
    found = logging_settings("json", "INFO")
    assert found["loggers"]["weasyprint"]["level"] == found["loggers"]["fontTools"]["level"] == "ERROR"
    with pytest.raises(ValueError, match="line or json"):
        logging_settings("xml", "INFO")
