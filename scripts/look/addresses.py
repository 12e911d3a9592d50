"""Addresses of the running demonstration, found by following its links: a few of every shape.

    make demo && .venv/bin/python scripts/look/addresses.py [--base http://127.0.0.1:8000] [--user marta] [--each 3]

Writes var/look/USER.txt (pages) and says how many shapes there are; pages that fail are named and end it with 1.
"""

import argparse
import html
import re
import sys
from collections import Counter, deque
from pathlib import Path
from urllib.parse import parse_qsl, urljoin, urlsplit

import requests

FOLDER = Path(__file__).resolve().parents[2] / "var" / "look"
PASSWORD = "show me the welds"
LINK = re.compile(r'(?:href|hx-get)="([^"#]+)')
NO_PAGE = re.compile(
    r"units=us|\?units=si|logout|_export=|/sheet/|/card/|coverage-report|weld-map|/sheets/\d|/made/|/file|/static/|/api/v1"
    r"|\.(pdf|ics|zip|csv|xlsx)"
)


def shape(address: str) -> str:
    """Parts that hold a digit made alike, and the names of what is asked. "/jobs/7/?on=x" gives "/jobs/#/?on"."""
    parts = urlsplit(address)
    asked = "&".join(sorted(name for name, _ in parse_qsl(parts.query, keep_blank_values=True)))
    return re.sub(r"/(?=[^/]*\d)[^/]+", "/#", parts.path) + (f"?{asked}" if asked else "")


def signed_in(base: str, user: str) -> requests.Session:
    session = requests.Session()
    first = session.get(f"{base}/")
    token = re.search(r'csrfmiddlewaretoken" value="([^"]+)', first.text)
    if token is None:
        raise SystemExit(f"No sign-in page at {base}: is the demonstration running?")
    entries = {"csrfmiddlewaretoken": token[1], "username": user, "password": PASSWORD, "next": "/"}
    session.post(first.url, data=entries, headers={"Referer": first.url}).raise_for_status()
    return session


def found(session: requests.Session, base: str, each: int) -> tuple[list[str], Counter[str], list[str]]:
    """Pages in the order of finding, how many of each shape were taken, and what failed."""
    waiting, known, taken = deque(["/"]), {"/"}, Counter[str]()
    pages: list[str] = []
    failed: list[str] = []
    while waiting:
        address = waiting.popleft()
        answer = session.get(base + address, timeout=120)
        if not answer.ok:
            failed.append(f"{answer.status_code} {address}")
        if not answer.ok or "html" not in answer.headers.get("Content-Type", ""):
            continue
        pages.append(address)
        for link in LINK.findall(answer.text):
            target = urljoin(base + address, html.unescape(link))
            there = target.removeprefix(base)
            few = min(each, 2) if "?" in there else each
            if not target.startswith(base) or there in known or NO_PAGE.search(there) or taken[shape(there)] >= few:
                continue
            known.add(there)
            taken[shape(there)] += 1
            waiting.append(there)
    return pages, taken, failed


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--base", default="http://127.0.0.1:8000")
    asked.add_argument("--user", default="marta")
    asked.add_argument("--each", type=int, default=3)
    given = asked.parse_args()
    pages, shapes, failed = found(signed_in(given.base, given.user), given.base, given.each)
    FOLDER.mkdir(parents=True, exist_ok=True)
    (FOLDER / f"{given.user}.txt").write_text("\n".join(pages) + "\n", encoding="utf-8")
    print(f"{len(pages)} pages of {len(shapes)} shapes in {FOLDER / given.user}.txt", *failed, sep="\n")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
