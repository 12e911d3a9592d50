"""`manage.py take_second_factor NAME`: for who lost telephone and recovery codes, where nobody else can help."""

from argparse import ArgumentParser
from typing import Any

from django.contrib.auth.models import User
from django.core.management.base import CommandError

from register.management.base import RegisterCommand
from register.second.acts import take_away


class Command(RegisterCommand):
    """The password alone signs in afterwards; the act stands in the trail."""

    help = "Take the second factor of an account away."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")

    def handle(self, *args: Any, name: str, **options: Any) -> None:
        user = User.objects.filter(username=name).first()
        if user is None:
            raise CommandError(f"There is no account {name}.")
        try:
            take_away(user, None)
        except ValueError as refusal:
            raise CommandError(str(refusal)) from refusal
        self.stdout.write(f"{name} signs in with the password alone until a new one is set up.")
