"""`manage.py send_due_digest`: announce by mail what falls due. Run it daily; each deadline is announced once."""

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError
from django.utils import timezone

from qualifications.calendar.digest import send, to_announce
from register.base.asof import BadAskedDate, read_date
from register.management.base import RegisterCommand


class Command(RegisterCommand):
    """Mails what falls due through Django's mail settings (EMAIL_URL)."""

    help = (
        "Mail what falls due within DUE_DIGEST_DAYS to DUE_DIGEST_TO, or else to coordinators, QA and, for their own "
        "people, supervisors. Each deadline is announced once for each horizon; run it as often as you like."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--on", default="", help="the day to ask about, as 2026-03-01; today where left out")
        parser.add_argument("--dry-run", action="store_true", help="say what would be announced; send and note nothing")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            on = read_date(options["on"]) if options["on"] else timezone.localdate()
        except BadAskedDate as bad:
            raise CommandError(str(bad)) from None
        horizons = settings.DUE_DIGEST_DAYS
        if options["dry_run"]:
            for one in to_announce(on, horizons):
                self.stdout.write(f"{one.item.by.isoformat()} {one.item.label}: {one.item.act}")
            return
        done = send(on, horizons)
        self.stdout.write(f"{done.announced} announced in {done.mails} mails.")
        if done.nobody:
            raise CommandError(
                f"{done.nobody} deadlines have nobody to write to: set DUE_DIGEST_TO, or give a coordinator an address."
            )
