"""The audit of the packages: what counts as an advisory, as accepted, as not looked up, and as left out."""

import json
import socket
from collections.abc import Iterator
from datetime import date
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from scripts import audit
from scripts.audit import ACCEPTED, KNOWN_WEAK, accepted, pins_of, problems, why_not_reached, without_use

HEAD = "advisory,package,accepted_on,until,reason"
PINS = {("idna", "3.20"): ["requirements-test.txt"], ("django", "5.2.19"): ["requirements.txt"]}
WEAK = {"id": "PYSEC-1", "aliases": ["CVE-1"], "fix_versions": ["3.21"]}


def _report(*weak: dict[str, Any]) -> dict[str, Any]:
    clean = {"name": "django", "version": "5.2.19", "vulns": []}
    return {"dependencies": [{"name": "idna", "version": "3.20", "vulns": list(weak)}, clean]}


@pytest.mark.parametrize(
    ("line", "on", "refused"),
    [
        ("", "2026-06-01", True),
        ("CVE-1,idna,2026-06-01,2026-07-01,not reached", "2026-05-31", True),
        ("CVE-1,idna,2026-06-01,2026-07-01,not reached", "2026-06-01", False),
        ("PYSEC-1,idna,2026-06-01,2026-07-01,not reached", "2026-07-01", False),
        ("CVE-1,idna,2026-06-01,2026-07-01,not reached", "2026-07-02", True),
        ("CVE-1,django,2026-06-01,2026-07-01,not reached", "2026-06-01", True),
    ],
)
def test_an_advisory_counts_unless_it_is_accepted_for_that_package_on_that_day(
    line: str, on: str, refused: bool
) -> None:
    found = list(problems(_report(WEAK), PINS, accepted([HEAD, line]), date.fromisoformat(on)))
    assert bool(found) is refused
    assert not refused or "idna 3.20: PYSEC-1, CVE-1, mended in 3.21: pin that (requirements-test.txt)." in found[0]
    assert "until 2026-07-01 only" in "".join(found) or on != "2026-07-02"


def test_what_is_not_mended_and_what_was_not_looked_up_is_named() -> None:
    report, pins = _report(WEAK | {"fix_versions": []}), {**PINS, ("lark", "1.3.1"): ["requirements-ifc.txt"]}
    found = list(problems(report, pins, [], date.min))
    assert len(found) == 2 and "not mended yet" in found[0] and "lark 1.3.1: not looked up" in found[1]
    assert list(problems(_report(), PINS, [], date.min)) == []


def test_an_acceptance_that_nothing_needs_is_named() -> None:
    known = accepted([HEAD, "CVE-1,idna,2026-06-01,2026-07-01,a", "CVE-2,idna,2026-06-01,2026-07-01,b"])
    assert without_use(_report(WEAK), known) == ["idna CVE-2"]


@pytest.mark.parametrize("line", ["CVE-1,idna,2026-06-01,,a", "CVE-1,idna,2026-06-01,soon,a", "CVE-1,idna,2026-06-01"])
def test_nothing_is_accepted_without_reason_and_dates(line: str) -> None:
    with pytest.raises(ValueError, match="line 2"):
        accepted([HEAD, line])


def test_the_list_can_be_read_and_every_pin_is_found(tmp_path: Path) -> None:
    accepted(ACCEPTED.read_text(encoding="utf-8").splitlines())
    (tmp_path / "requirements.txt").write_text("# Run time\nidna==3.20\n-r requirements-x.txt\n")
    (tmp_path / "requirements-x.txt").write_text("idna==3.20\nlark==1.3.1\n")
    both = ["requirements-x.txt", "requirements.txt"]
    assert pins_of(tmp_path) == {("idna", "3.20"): both, ("lark", "1.3.1"): both[:1]}


# Whether a service can be asked


class Service(BaseHTTPRequestHandler):
    """Answers by its address, and only to the question that every service must know."""

    def do_POST(self) -> None:
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        body = {"/good": b'{"vulns": [{"id": "A"}]}', "/empty": b"{}", "/page": b"<p>Sign in"}.get(self.path)
        self.send_response(200 if body and asked == KNOWN_WEAK else 404)
        self.end_headers()
        self.wfile.write(body or b"")

    def log_message(self, *_: Any) -> None:
        pass


@pytest.fixture(scope="module")
def service() -> Iterator[str]:
    with HTTPServer(("127.0.0.1", 0), Service) as server:
        Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.mark.parametrize(
    ("path", "reason"), [("good", ""), ("empty", "knows no"), ("page", "not JSON"), ("other", "answers 404")]
)
def test_only_a_service_that_knows_advisories_is_asked(service: str, path: str, reason: str) -> None:
    said = why_not_reached(f"{service}/{path}")
    assert reason in said and bool(said) is bool(reason)


def test_where_nothing_answers_it_is_said_in_time() -> None:
    with socket.create_server(("127.0.0.1", 0)) as silent:
        address = f"http://127.0.0.1:{silent.getsockname()[1]}/"
        assert "no answer within 0.05 s" in why_not_reached(address, patience=0.05)
    assert "nothing answers" in why_not_reached(address)
    assert "no address" in why_not_reached("osv")


# The whole of it: what is said, and how it ends


class Advisories(BaseHTTPRequestHandler):
    """A service that answers the query call of OSV, in the form of its schema: it knows Django 1.2 and idna 3.20."""

    def do_POST(self) -> None:
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        name, version = asked["package"]["name"].lower(), asked.get("version")
        found = [_advisory(name)] if (name, version) in {("django", "1.2"), ("idna", "3.20")} else []
        self.send_response(200)
        self.send_header("Content-Type", "application/json")
        self.end_headers()
        self.wfile.write(json.dumps({"vulns": found} if found else {}).encode())

    def log_message(self, *_: Any) -> None:
        pass


def _advisory(name: str) -> dict[str, Any]:
    """To the OSV schema 1.6 (ossf.github.io/osv-schema); number and fix are invented."""
    fixed = {"type": "ECOSYSTEM", "events": [{"introduced": "0"}, {"fixed": "3.21"}]}
    affected = {"package": {"name": name, "ecosystem": "PyPI"}, "ranges": [fixed], "versions": ["3.20"]}
    known = {"schema_version": "1.6.0", "id": "PYSEC-1", "aliases": ["CVE-1"], "affected": [affected]}
    return known | {"published": "2026-11-01T00:00:00Z", "modified": "2026-11-02T00:00:00Z", "details": "x"}


@pytest.fixture
def advisories(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Path]:
    """Two pins, an empty list of accepted advisories, and the service; the list."""
    (tmp_path / "requirements.txt").write_text("idna==3.20\nlark==1.3.1\n")
    (tmp_path / "accepted.csv").write_text(f"{HEAD}\n")
    monkeypatch.setattr(audit, "TOP", tmp_path)
    monkeypatch.setattr(audit, "ACCEPTED", tmp_path / "accepted.csv")
    with HTTPServer(("127.0.0.1", 0), Advisories) as server:
        Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        monkeypatch.setenv("AUDIT_URL", f"http://127.0.0.1:{server.server_port}/v1/query")
        yield tmp_path / "accepted.csv"
        server.shutdown()


REPORT = {
    "dependencies": [
        {"name": "idna", "version": "3.20", "vulns": [{**WEAK, "description": "x"}]},
        {"name": "lark", "version": "1.3.1", "vulns": []},
    ],
    "fixes": [],
}
"""As pip-audit 2.10.1 wrote it for these pins."""
TOOL = Path(audit.__file__).parent.parent / ".venv-audit" / "bin" / "python"


@pytest.mark.parametrize(
    "real",
    [False, pytest.param(True, marks=pytest.mark.skipif(not TOOL.exists(), reason="make audit was never called here"))],
)
def test_an_advisory_fails_the_audit_unless_it_is_accepted(
    advisories: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], real: bool
) -> None:
    if real:
        monkeypatch.setattr(audit.sys, "executable", str(TOOL))
    else:
        monkeypatch.setattr(audit, "look_up", lambda url, pins: REPORT)
    assert audit.main(only_reached=True) == audit.CLEAN
    assert audit.main(only_reached=False) == audit.FOUND
    said = capsys.readouterr().out
    assert "idna 3.20: PYSEC-1, CVE-1, mended in 3.21: pin that (requirements.txt)." in said and "accepted.csv" in said
    advisories.write_text(f"{HEAD}\nCVE-1,idna,2026-01-01,2999-12-31,not reached by the register\n")
    assert audit.main(only_reached=False) == audit.CLEAN
    assert "2 pinned packages looked up, no advisory but accepted ones." in capsys.readouterr().out
    advisories.write_text(f"{HEAD}\nCVE-1,idna,2026-01-01,2999-12-31,\n")
    assert audit.main(only_reached=False) == audit.FOUND
    assert "line 2: reason is empty" in capsys.readouterr().out


def test_what_could_not_be_looked_up_is_never_called_clean(
    advisories: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(audit, "look_up", lambda url, pins: "the service answered 502.")
    assert audit.main(only_reached=False) == audit.LEFT_OUT
    assert "LEFT OUT, nothing was looked up" in capsys.readouterr().out
    with socket.create_server(("127.0.0.1", 0)) as free:
        monkeypatch.setenv("AUDIT_URL", f"http://127.0.0.1:{free.getsockname()[1]}/")
    assert audit.main(only_reached=False) == audit.LEFT_OUT
    assert "nothing answers" in capsys.readouterr().out
