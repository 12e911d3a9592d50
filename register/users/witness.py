"""Accounts are kept as they were left, whoever changes them by the register, and compared when the trail is verified.

Whoever may write in the database could give an account a role, a password of their own, or sign in as somebody who
left. Signals write the state: what goes past Django goes past them, and is found.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

from django.apps import apps
from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import Max
from django.db.models.signals import m2m_changed, post_delete, post_save, pre_save
from django.dispatch import receiver

from register.base.days import at_the_works
from register.plants.models import PlantRole
from register.second.models import SecondFactor
from register.trail.sealing import keep_rows
from register.users.models import AccountState
from register.users.stand import SECRETS, changed, digest, stands

SILENT = frozenset({"last_login"})
SAVED = frozenset({"username", "first_name", "last_name", "email", "is_active", "password"})
ROLES, PLANT_ROLES, FACTOR = ("roles", "permissions"), ("roles_at",), ("second_factor", "recovery_codes")
DONE = ("post_add", "post_remove", "post_clear")
_changing: ContextVar[int | None] = ContextVar("account_that_is_changed", default=None)


def keep(pks: Iterable[int] | None = None, parts: Iterable[str] | None = None) -> None:
    """Write how these accounts stand now, or all of them, where that is another stand than was kept last.

    `parts`: what the register itself changed just now. The rest stays as it was kept, so that what somebody changed
    past the register is still told after the next change through it.
    """
    wanted, names = None if pks is None else set(pks), None if parts is None else set(parts)
    if wanted is not None and wanted == {_changing.get()}:
        return
    with transaction.atomic(savepoint=False):
        now, held = stands(apps.get_model, wanted), last_states(wanted)
        rows = []
        for pk in sorted({*now, *(wanted if wanted is not None else held)}):
            before, after = held[pk].stand if pk in held else {}, now.get(pk, {})
            if names is not None and after:
                if not before:
                    continue
                after = before | {name: value for name, value in after.items() if name in names}
            if before != after:
                rows.append(AccountState(account=pk, stand=after))
        if rows:
            keep_rows(AccountState, rows)


@contextmanager
def changing(user: Any, by: Any) -> Iterator[None]:
    """Keep at the end what `by` changed of an account inside, and no more: what was bent before is told further.

    A secret that was put in past the register is told until somebody else than its owner sets another.
    """
    with transaction.atomic():
        before, held = stands(apps.get_model, {user.pk}).get(user.pk, {}), last_states({user.pk}).get(user.pk)
        token = _changing.set(user.pk)
        try:
            yield
        finally:
            _changing.reset(token)
        known, own = held.stand if held is not None else {}, by is not None and by.pk == user.pk
        now = stands(apps.get_model, {user.pk}).get(user.pk, {})
        after = {name: _left(known.get(name), before.get(name), now[name], own and name in SECRETS) for name in now}
        if known and after != known:
            keep_rows(AccountState, [AccountState(account=user.pk, stand=after)])


def _left(held: Any, before: Any, now: Any, is_owners: bool) -> Any:
    """What to keep of one part: as it is now, but for what was there before and was never kept."""
    if before == held:
        return now
    if isinstance(now, list):
        return sorted((set(held or ()) | set(now) - set(before or ())) - (set(before or ()) - set(now)))
    return held if now == before or is_owners else now


def last_states(pks: set[int] | None = None) -> dict[int, AccountState]:
    """Key of the account -> its state that was kept last."""
    rows = AccountState.objects.all() if pks is None else AccountState.objects.filter(account__in=pks)
    last = rows.order_by().values("account").annotate(last=Max("pk")).values("last")
    return {state.account: state for state in AccountState.objects.filter(pk__in=last)}


def unlike(without: Iterable[str] = ()) -> Iterator[str]:
    """In a sentence each: accounts that are not as they were left, that nobody made, or that are gone."""
    now, held = stands(apps.get_model), last_states()
    for pk, own in sorted(now.items()):
        known = held.pop(pk, None)
        if known is None or not known.stand:
            yield f"The account {own['username']} is on file, and was not made through the register."
        elif said := changed(known.stand, own, without):
            left = at_the_works(known.at)
            yield f"The account {own['username']} is not as it was left at {left}: {', '.join(said)} changed since."
    for state in held.values():
        if state.stand:
            yield f"The account {state.stand.get('username')} is gone, and the register did not delete it."


@receiver(pre_save, sender=User, dispatch_uid="register.users.before")
def user_before(sender: Any, instance: User, **kwargs: Any) -> None:
    """See whether the password is the one that was kept: at a sign-in Django itself writes a weak hash anew."""
    held = last_states({instance.pk}).get(instance.pk) if instance.pk else None
    found = User._base_manager.filter(pk=instance.pk).values_list("password", flat=True).first() if held else None
    is_kept = held is None or found is None or digest(found) == held.stand.get("password")
    instance._silent = SILENT if is_kept else SILENT | {"password"}  # type: ignore[attr-defined]


@receiver(post_save, sender=User, dispatch_uid="register.users.saved")
def user_saved(sender: Any, instance: User, created: bool, update_fields: Any = None, **kwargs: Any) -> None:
    """Keep what was saved; that somebody signed in changes nothing. Powers beyond the roles are saved by name only."""
    if created:
        keep([instance.pk])
    elif parts := (set(update_fields) if update_fields is not None else SAVED) - instance._silent:  # type: ignore[attr-defined]
        keep([instance.pk], parts)


@receiver(post_delete, sender=User, dispatch_uid="register.users.deleted")
def user_deleted(sender: Any, instance: User, **kwargs: Any) -> None:
    """Keep that it is gone."""
    keep([instance.pk])


@receiver([post_save, post_delete], sender=PlantRole, dispatch_uid="register.users.plant_role")
def plant_role_changed(sender: Any, instance: PlantRole, **kwargs: Any) -> None:
    """Keep the roles at single plants."""
    keep([instance.user_id], PLANT_ROLES)


@receiver([post_save, post_delete], sender=SecondFactor, dispatch_uid="register.users.factor")
def factor_changed(sender: Any, instance: SecondFactor, **kwargs: Any) -> None:
    """Keep the second factor."""
    keep([instance.user_id], FACTOR)


@receiver(m2m_changed, sender=User.groups.through, dispatch_uid="register.users.roles")
@receiver(m2m_changed, sender=User.user_permissions.through, dispatch_uid="register.users.permissions")
def rights_changed(sender: Any, instance: Any, action: str, reverse: bool, pk_set: Any, **kwargs: Any) -> None:
    """Keep the roles for the whole firm."""
    if action in DONE and (pk_set or (action == "post_clear" and not reverse)):
        keep(pk_set if reverse else [instance.pk], ROLES)
