"""`manage.py due --within 60`: what must be signed, welded or tested, and what lapsed, as lines or as JSON."""

import json
from argparse import ArgumentParser
from typing import Any

from django.core.exceptions import BadRequest
from django.core.management.base import CommandError
from django.core.serializers.json import DjangoJSONEncoder
from django.utils import timezone

from qualifications.api.due import due_out
from qualifications.due import LOOK_BACK, WITHIN, falls_due
from qualifications.offers import certificate_offers
from register.base.asof import read_date
from register.held.firm import firm_settings
from register.management.base import RegisterCommand

BAD_INPUT = 2
MOST = 800


class Command(RegisterCommand):
    """The same list as the page *Due* and the call /api/v1/due."""

    help = "List what falls due, earliest first; tab-separated, or with --json one JSON object. Exit 2: bad input."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--on", default="", help="the day asked about, YYYY-MM-DD; today unless stated")
        parser.add_argument("--within", type=int, default=WITHIN[-1], help="days ahead, the last one included")
        parser.add_argument("--back", type=int, default=LOOK_BACK, help="days behind, for what lapsed")
        parser.add_argument("--json", action="store_true", help="one JSON object instead of lines")

    def handle(self, *args: Any, on: str, within: int, back: int, **options: Any) -> None:
        try:
            asked = read_date(on) if on else timezone.localdate()
        except BadRequest as bad:
            raise CommandError(str(bad), returncode=BAD_INPUT) from None
        if not (0 <= within <= MOST and 0 <= back <= MOST):
            raise CommandError(f"--within and --back are days from 0 to {MOST}.", returncode=BAD_INPUT)
        settings = firm_settings()
        found = falls_due(certificate_offers(settings), asked, (within,), back, settings)
        if options["json"]:
            said = {"on": asked, "within": within, "items": [due_out(item) for item in found]}
            self.stdout.write(json.dumps(said, cls=DjangoJSONEncoder, ensure_ascii=False, indent=1))
            return
        for item in found:
            parts = (item.by.isoformat(), item.when, item.act, item.person_name, f"{item.number} ({item.code})")
            self.stdout.write("\t".join((*parts, item.because)))
