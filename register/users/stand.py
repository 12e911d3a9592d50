"""How accounts stand, as one mapping each: who they are, what they may, and digests of what they sign in with.

Of a password the register keeps a salted hash; here stands the SHA-256 of that hash. It tells that the hash is another
one, and is of no use for guessing the password. The same of the secret of a second factor and of its recovery codes.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from hashlib import sha256
from typing import Any

OWN = ("username", "first_name", "last_name", "email", "is_active", "is_staff", "is_superuser")
SECRETS = ("password", "second_factor", "recovery_codes")
WORDS = {
    "username": "the name to sign in with",
    "is_active": "whether it may sign in",
    "is_staff": "whether it is staff",
    "is_superuser": "whether it may do everything",
    "roles": "its roles",
    "roles_at": "its roles at single plants",
    "permissions": "its permissions",
    "password": "its password",
    "second_factor": "its second factor",
    "recovery_codes": "its recovery codes",
}
"""What is not said by its own name."""
Stand = dict[str, Any]
GetModel = Callable[[str, str], Any]


def stands(get_model: GetModel, pks: Collection[int] | None = None) -> dict[int, Stand]:
    """Key -> stand of these accounts, or of all. Six queries; `get_model` as django.apps gives it, or a migration."""
    users = get_model("auth", "User")
    chosen: dict[str, Any] = {} if pks is None else {"pk__in": pks}
    of_user = {name.replace("pk", "user"): value for name, value in chosen.items()}
    found = {
        pk: dict(zip(OWN, own, strict=True)) | {"password": digest(password)}
        for pk, password, *own in users._base_manager.filter(**chosen).values_list("pk", "password", *OWN)
    }
    secrets = get_model("register", "SecondFactor")._base_manager.filter(**of_user)
    codes = get_model("register", "RecoveryCode")._base_manager
    codes = codes.filter(**{f"factor__{name}": value for name, value in of_user.items()})
    parts = {
        "roles": _each(users.groups.through._base_manager.filter(**of_user).values_list("user_id", "group__name")),
        "permissions": _each(
            users.user_permissions.through._base_manager.filter(**of_user).values_list(
                "user_id", "permission__codename"
            )
        ),
        "roles_at": _each(
            (user, f"{plant} {role}")
            for user, plant, role in get_model("register", "PlantRole")
            ._base_manager.filter(**of_user)
            .values_list("user_id", "plant_id", "role")
        ),
        "second_factor": _each((user, digest(secret)) for user, secret in secrets.values_list("user_id", "secret")),
        "recovery_codes": _each(codes.values_list("factor__user_id", "sha256")),
    }
    for pk, one in found.items():
        one |= {name: sorted(held[pk]) for name, held in parts.items()}
        one["second_factor"] = "".join(one["second_factor"])
        one["recovery_codes"] = digest(" ".join(one["recovery_codes"]))
    return found


def digest(text: str) -> str:
    """What is kept of a secret; "" of none."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest() if text else ""


def changed(before: Stand, now: Stand, without: Iterable[str] = ()) -> list[str]:
    """In words, what of an account is another now; what an earlier version of the register did not note is left out."""
    names = [name for name in now if name in before and name not in without and before[name] != now[name]]
    return [WORDS.get(name, name.replace("_", " ")) for name in names]


def _each(rows: Iterable[tuple[int, str]]) -> defaultdict[int, list[str]]:
    found: defaultdict[int, list[str]] = defaultdict(list)
    for pk, text in rows:
        found[pk].append(text)
    return found
