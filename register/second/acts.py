"""Setting up a second factor, taking a code, and taking the factor away; each act stands in the trail."""

import secrets
import time
from base64 import b32encode
from hashlib import sha256
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from register.audit import record_act
from register.roles import Capability, reach_with
from register.second.models import RecoveryCode, SecondFactor
from register.second.totp import matching_step
from register.throttle import guarded
from register.users.witness import changing

RECOVERY_CODES = 10
SIGNERS = (Capability.APPROVE_PROCEDURE, Capability.CHECK_PROCEDURE, Capability.MANAGE_USERS)
"""Whoever may do one of these at any plant is an approver."""


def factor_of(user: Any) -> SecondFactor | None:
    """The second factor of an account, kept on it. One query."""
    if not hasattr(user, "_second_factor"):
        user._second_factor = SecondFactor.objects.filter(user=user.pk).first()
    found: SecondFactor | None = user._second_factor
    return found


def is_required(user: Any) -> bool:
    """True where the firm asks for one and the account is an approver's."""
    return settings.APPROVERS_NEED_CODE and any(reach_with(user, one).plants != frozenset() for one in SIGNERS)


@transaction.atomic
def set_up(user: Any, secret: str, code: str) -> list[str]:
    """Keep a secret that the owner has shown to hold, and give the recovery codes, this once.

    Raises ValueError where the code is not of the secret, or there is a factor already.
    """
    step = matching_step(secret, digits_of(code), time.time())
    if step is None:
        raise ValueError("This is not the code of now: look again, and check the clock of the telephone.")
    if SecondFactor.objects.select_for_update().filter(user=user).exists():
        raise ValueError("There is a second factor already; take it away first.")
    with changing(user, user):
        factor = SecondFactor.objects.create(user=user, secret=secret, last_step=step)
        codes = _new_codes(factor)
    user._second_factor = factor
    record_act(user, "set up the second factor of", user)
    return codes


@transaction.atomic
def new_codes(user: Any) -> list[str]:
    """Ten new recovery codes in place of all earlier ones. Raises ValueError without a factor."""
    factor = factor_of(user)
    if factor is None:
        raise ValueError("There is no second factor.")
    with changing(user, user):
        factor.recovery_codes.all().delete()
        codes = _new_codes(factor)
    record_act(user, "made new recovery codes for", user)
    return codes


@transaction.atomic
def take_away(user: Any, by: Any) -> None:
    """Remove the factor and its recovery codes. Raises ValueError where there is none."""
    with changing(user, by):
        gone = SecondFactor.objects.filter(user=user).delete()[0]
    if not gone:
        raise ValueError("There is no second factor to take away.")
    user._second_factor = None
    record_act(by, "took away the second factor of", user)


def check_code(user: Any, given: str) -> bool:
    """True for the code of now that was not taken before, or a recovery code that was not used; either counts once.

    Counted by account, wherever it comes from: raises TooManyAttempts (register.throttle).
    """
    factor = factor_of(user)
    if factor is None:
        return False
    # Apart from wrong passwords: a right password must not set the count of wrong codes back.
    # Under an address of the account's own: wrong codes of others, wherever from, lock nobody out.
    counted = (f"code of {user.get_username()}", f"account {user.pk}")
    return bool(guarded(*counted, lambda: _take(factor, user, given) or None))


def _take(factor: SecondFactor, user: Any, given: str) -> bool:
    step = matching_step(factor.secret, digits_of(given), time.time())
    if step is not None:
        # In one statement, so that of two who send the same code at once one is refused.
        return bool(SecondFactor.objects.filter(pk=factor.pk, last_step__lt=step).update(last_step=step))
    unused = RecoveryCode.objects.filter(factor=factor, sha256=hash_of(given), used_at__isnull=True)
    if not unused.update(used_at=timezone.now()):
        return False
    left = RecoveryCode.objects.filter(factor=factor, used_at__isnull=True).count()
    record_act(user, "used a recovery code of", user, after={"left": left})
    return True


def digits_of(given: str) -> str:
    """A code as it is typed, with or without spaces."""
    return "".join(given.split())


def hash_of(code: str) -> str:
    """What is kept of a recovery code, however it is typed."""
    return sha256("".join(ch for ch in code.upper() if ch.isalnum()).encode()).hexdigest()


def _new_codes(factor: SecondFactor) -> list[str]:
    codes = [_code() for _ in range(RECOVERY_CODES)]
    RecoveryCode.objects.bulk_create(RecoveryCode(factor=factor, sha256=hash_of(code)) for code in codes)
    return codes


def _code() -> str:
    """Example: "K3QP-7WXA-2MNB-5RTC"."""
    text = b32encode(secrets.token_bytes(10)).decode("ascii")
    return "-".join(text[at : at + 4] for at in range(0, 16, 4))
