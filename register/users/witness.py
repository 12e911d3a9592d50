"""Accounts are kept as they were left, whoever changes them by the register, and compared when the trail is verified.

Whoever may write in the database could give an account a role, a password of their own, or sign in as somebody who
left. Signals write the state: what goes past Django goes past them, and is found.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from django.apps import apps
from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import Max
from django.db.models.signals import m2m_changed, post_delete, post_save
from django.dispatch import receiver

from register.plants.models import PlantRole
from register.second.models import SecondFactor
from register.trail.sealing import keep_rows
from register.users.models import AccountState
from register.users.stand import changed, stands

SILENT = frozenset({"last_login"})
SAVED = frozenset({"username", "first_name", "last_name", "email", "is_active", "password"})
ROLES, PLANT_ROLES, FACTOR = ("roles", "permissions"), ("roles_at",), ("second_factor", "recovery_codes")
DONE = ("post_add", "post_remove", "post_clear")


def keep(pks: Iterable[int] | None = None, parts: Iterable[str] | None = None) -> None:
    """Write how these accounts stand now, or all of them, where that is another stand than was kept last.

    `parts`: what the register itself changed just now. The rest stays as it was kept, so that what somebody changed
    past the register is still told after the next change through it.
    """
    wanted, names = None if pks is None else set(pks), None if parts is None else set(parts)
    with transaction.atomic(savepoint=False):
        now, held = stands(apps.get_model, wanted), last_states(wanted)
        rows = []
        for pk in sorted({*now, *(wanted if wanted is not None else held)}):
            before, after = held[pk].stand if pk in held else {}, now.get(pk, {})
            if before and after and names is not None:
                after = before | {name: value for name, value in after.items() if name in names}
            if before != after:
                rows.append(AccountState(account=pk, stand=after))
        if rows:
            keep_rows(AccountState, rows)


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
            left = f"{known.at:%Y-%m-%d %H:%M}"
            yield f"The account {own['username']} is not as it was left at {left}: {', '.join(said)} changed since."
    for state in held.values():
        if state.stand:
            yield f"The account {state.stand.get('username')} is gone, and the register did not delete it."


@receiver(post_save, sender=User, dispatch_uid="register.users.saved")
def user_saved(sender: Any, instance: User, created: bool, update_fields: Any = None, **kwargs: Any) -> None:
    """Keep what was saved; that somebody signed in changes nothing. Powers beyond the roles are saved by name only."""
    if created:
        keep([instance.pk])
    elif parts := (set(update_fields) if update_fields is not None else SAVED) - SILENT:
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
