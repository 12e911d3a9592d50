"""`manage.py sheet "WPS 014 rev C" -o sheet.pdf`: the issued sheet of a revision, or the watermarked one of a draft."""

import getpass
import os
import re
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.core.management.base import CommandError
from django.urls import reverse
from django.utils import timezone

from register.held.firm import firm_settings
from register.management.base import RegisterCommand
from register.papers.kept import Altered, bytes_of
from register.throttle import TooManyAttempts, guarded
from wps import issued
from wps.models import ProcedureRevision, Status
from wps.sheet_render import PAPERS
from wps.sheets import CELL, KINDS, UNITS, Choice, SheetError, sheet

BAD_INPUT = 2
NAMED = re.compile(r"(.+?)\s+rev\.?\s+([A-Z]+)", re.IGNORECASE)


class Refused(ValueError):
    """Why there is no sheet; the message says what to do."""


class Command(RegisterCommand):
    """An issued sheet comes byte for byte as it was issued. Issuing one is somebody's act: --issue-as asks who."""

    help = "Write the sheet of a revision as PDF. Exit 2: no such revision or sheet."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("revision", help='such as "WPS 014 rev C"; "WPS 014" is the one in force')
        parser.add_argument("-o", "--output", type=Path, required=True, help="file to write; never overwrites")
        parser.add_argument("--kind", choices=list(KINDS), default=CELL)
        parser.add_argument("--paper", choices=list(PAPERS), default="a4")
        parser.add_argument("--units", choices=list(UNITS), default="si")
        parser.add_argument("--issue-as", metavar="NAME", default="", help="issue it, if it is not, signed by NAME")

    def handle(self, *args: Any, revision: str, output: Path, issue_as: str, **options: Any) -> None:
        try:
            found = revision_of(revision)
            choice = Choice(options["kind"], options["paper"], options["units"])
            data, words = _made(found, choice, issue_as)
            with output.open("xb") as file:
                file.write(data)
        except FileExistsError:
            raise CommandError(f"{output} is there already; name another file.", returncode=BAD_INPUT) from None
        except (Refused, SheetError, Altered, PermissionDenied, OSError) as refusal:
            raise CommandError(str(refusal), returncode=BAD_INPUT) from None
        self.stdout.write(f"{output}: {words}")


def revision_of(said: str) -> ProcedureRevision:
    """The revision that is named. Raises Refused."""
    rows = ProcedureRevision.objects.select_related("procedure")
    named = NAMED.fullmatch(said.strip())
    if named is not None:
        found = rows.filter(procedure__number=named[1], letter=named[2].upper()).first()
    else:
        found = rows.filter(procedure__number=said.strip(), status=Status.APPROVED).first()
    if found is None:
        raise Refused(f"No revision “{said}” is on file; write it as it stands on the sheet: WPS 014 rev C.")
    return found


def _made(revision: ProcedureRevision, choice: Choice, issue_as: str) -> tuple[bytes, str]:
    """The bytes, and what they are in words. Raises Refused, SheetError, PermissionDenied."""
    if not issued.is_issuable(revision):
        made = sheet(revision, choice, timezone.localdate(), settings=firm_settings())
        return made.pdf, f"draft of {revision}, watermarked"
    kept = issued.find(revision, choice)
    if kept is None:
        if not issue_as:
            raise Refused(f"No such sheet of {revision} was issued yet. Print it on its page, or name who issues it.")
        kept = issued.issue(revision, choice, signer(issue_as), status_url())
    return bytes_of(kept), f"{revision}, {revision.get_status_display()}, check code {kept.check_code}"


def signer(name: str) -> User:
    """Whoever issues it, by the password (asked for, or from SIGNING_PASSWORD). Raises Refused."""
    user = User.objects.filter(username=name, is_active=True).first()
    password = os.environ.get("SIGNING_PASSWORD") or getpass.getpass(f"Password of {name}: ")
    try:
        right = guarded(name, "", lambda: True if user is not None and user.check_password(password) else None)
    except TooManyAttempts as locked:
        raise Refused(str(locked)) from None
    if user is None or not right:
        raise Refused(f"This is not the password of {name}. Nothing was issued.")
    return user


def status_url() -> str:
    """The address that the code on the sheet leads to. Raises Refused where nobody has said it."""
    if not settings.PUBLIC_URL:
        raise Refused("Set PUBLIC_URL first: the code on the sheet leads there.")
    path = reverse("wps:sheet_status", args=["A" * 10])
    return f"{settings.PUBLIC_URL.rstrip('/')}{path}".replace("A" * 10, "{code}")
