"""Is there an advisory about a package that is pinned here? Every exact pin of requirements*.txt, resolving nothing.

    make audit                                            at the advisory service below
    make audit AUDIT_URL=https://osv.example/v1/query     at another one that answers the query call of OSV

Exit 0: no advisory but accepted ones. 1: an advisory, or a pin not looked up. 3: left out, no service answered.
`audit.py reached` only asks the service for something that it must know; it needs nothing but Python itself.
"""

import csv
import json
import os
import re
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from http.client import HTTPException
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

TOP = Path(__file__).resolve().parent.parent
ACCEPTED = TOP / "scripts" / "audit_accepted.csv"
SERVICE = "https://api.osv.dev/v1/query"
PATIENCE = 3  # seconds
CLEAN, FOUND, LEFT_OUT = 0, 1, 3
KNOWN_WEAK = {"package": {"name": "django", "ecosystem": "PyPI"}, "version": "1.2"}
"""Any service worth asking knows advisories about this; one that does not would call everything clean."""

Pin = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Acceptance:
    """One line of the list of accepted advisories; after `until` it counts no more."""

    advisory: str
    package: str
    accepted_on: date
    until: date
    reason: str


def why_not_reached(url: str, patience: float = PATIENCE) -> str:
    """Why the advisory service cannot be asked, or "". In a thread, as looking up a name keeps to no time limit."""
    said: list[str] = []
    asking = threading.Thread(target=lambda: said.append(_why_not(url, patience)), daemon=True)
    asking.start()
    asking.join(patience)
    return said[0] if said else f"no answer within {patience:g} s"


def _why_not(url: str, patience: float) -> str:
    try:
        request = Request(url, json.dumps(KNOWN_WEAK).encode(), {"Content-Type": "application/json"})
        with urlopen(request, timeout=10 * patience) as answer:
            said = json.load(answer)
    except HTTPError as refused:
        return f"it answers {refused.code}"
    except (OSError, HTTPException) as fault:
        return f"nothing answers ({getattr(fault, 'reason', fault)})"
    except ValueError:
        return "what it answers is not JSON, or this is no address"
    return "" if isinstance(said, dict) and said.get("vulns") else "it knows no advisories: none about Django 1.2"


def pins_of(top: Path) -> dict[Pin, list[str]]:
    """Every exact pin of requirements*.txt, and the files that it stands in."""
    found: dict[Pin, list[str]] = {}
    for file in sorted(top.glob("requirements*.txt")):
        for name, version in re.findall(r"^([a-z0-9-]+)==(\S+)$", file.read_text(encoding="utf-8"), re.MULTILINE):
            found.setdefault((name, version), []).append(file.name)
    return found


def accepted(lines: Iterable[str]) -> list[Acceptance]:
    """The accepted advisories. Raises ValueError, naming line, column and remedy."""
    found = []
    for number, row in enumerate(csv.DictReader(lines), start=2):
        for column in ("advisory", "package", "accepted_on", "until", "reason"):
            if not (row.get(column) or "").strip():
                raise ValueError(f"{ACCEPTED.name}, line {number}: {column} is empty; nothing is accepted without it.")
        try:
            accepted_on, until = (date.fromisoformat(row[name]) for name in ("accepted_on", "until"))
        except ValueError:
            raise ValueError(f"{ACCEPTED.name}, line {number}: write both dates as 2026-03-31.") from None
        found.append(Acceptance(row["advisory"], row["package"], accepted_on, until, row["reason"]))
    return found


def problems(
    report: Mapping[str, Any], pins: Mapping[Pin, list[str]], known: Iterable[Acceptance], on: date
) -> Iterator[str]:
    """One sentence for each advisory that is not accepted, with what to do, and for each pin that was not looked up."""
    valid = {(one.package, one.advisory) for one in known if one.accepted_on <= on <= one.until}
    lapsed = {(one.package, one.advisory): one.until for one in known if on > one.until}
    asked = {(one["name"], one["version"]): one["vulns"] for one in report["dependencies"] if "version" in one}
    for (name, version), files in pins.items():
        if (name, version) not in asked:
            yield f"{name} {version}: not looked up. Ask again; if it stays so, look at the pin in {files[0]}."
        for weak in asked.get((name, version), ()):
            names = dict.fromkeys((weak["id"], *weak["aliases"]))
            if any((name, one) in valid for one in names):
                continue
            ended = next((f" Accepted until {lapsed[name, one]} only." for one in names if (name, one) in lapsed), "")
            mended = ", ".join(weak["fix_versions"])
            remedy = f"mended in {mended}: pin that" if mended else "not mended yet: do without, or judge it"
            yield f"{name} {version}: {', '.join(names)}, {remedy} ({', '.join(files)}).{ended}"


def without_use(report: Mapping[str, Any], known: Iterable[Acceptance]) -> list[str]:
    """Accepted advisories that are found no more."""
    found = {
        (one["name"], name)
        for one in report["dependencies"]
        for weak in one.get("vulns", ())
        for name in (weak["id"], *weak["aliases"])
    }
    return [f"{one.package} {one.advisory}" for one in known if (one.package, one.advisory) not in found]


def look_up(url: str, pins: Mapping[Pin, list[str]]) -> dict[str, Any] | str:
    """What pip-audit says of every pin, or why it broke off."""
    with tempfile.TemporaryDirectory(prefix="audit-") as folder:
        command = [sys.executable, "-m", "pip_audit", "--no-deps", "--disable-pip", "--progress-spinner", "off"]
        command += ["-s", "osv", "--osv-url", url, "--timeout", "15", "-f", "json", "-o", f"{folder}/report.json"]
        # A file for each version of a name: tools may be pinned otherwise than what the register runs on.
        files: list[dict[str, str]] = []
        for name, version in pins:
            into = next((one for one in files if name not in one), None)
            if into is None:
                files.append(into := {})
            into[name] = version
        for number, held in enumerate(files):
            path = Path(folder) / f"pins-{number}.txt"
            path.write_text("".join(f"{name}=={version}\n" for name, version in held.items()), encoding="utf-8")
            command += ["-r", str(path)]
        # What must be said comes from the report; the tool is silent about pins where none has an advisory.
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        report = Path(folder) / "report.json"
        if done.returncode not in (CLEAN, FOUND) or not report.exists():
            return (done.stderr.strip() or f"it ended with {done.returncode}").splitlines()[-1]
        found: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
        return found


def left_out(url: str, reason: str) -> int:
    print(f"Audit of the packages LEFT OUT, nothing was looked up: {url}: {reason}.")
    return LEFT_OUT


def main(only_reached: bool) -> int:
    url = os.environ.get("AUDIT_URL") or SERVICE
    if reason := why_not_reached(url):
        return left_out(url, reason)
    if only_reached:
        return CLEAN
    pins = pins_of(TOP)
    try:
        known = accepted(ACCEPTED.read_text(encoding="utf-8").splitlines())
    except ValueError as bad:
        print(bad)
        return FOUND
    report = look_up(url, pins)
    if isinstance(report, str):
        return left_out(url, f"it broke off ({report.rstrip('.')})")
    found = list(problems(report, pins, known, datetime.now(UTC).date()))
    stale = [f"{one}: found no more, take it out of {ACCEPTED.name}." for one in without_use(report, known)]
    print("".join(f"{one}\n" for one in found + stale), end="")
    if found:
        print(
            f"Then run make test. What cannot be mended, and cannot be reached in the register, is accepted in\n"
            f"{ACCEPTED.relative_to(TOP)} with reason, date, and the day until which that holds."
        )
        return FOUND
    print(f"{len(pins)} pinned packages looked up, no advisory" + (" but accepted ones." if known else "."))
    return CLEAN


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] == ["reached"]))
