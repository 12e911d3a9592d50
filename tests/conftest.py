"""Fixed people, and databases that can be emptied although some of their rows refuse to go."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.contrib.auth.hashers import make_password
from django.contrib.auth.models import AnonymousUser, Group, User
from django.db import connection
from django.test import Client
from hypothesis import HealthCheck, settings

from register.held import grades
from register.roles import Role
from register.users.witness import keep
from tests import database_image

# What is true is true on a busy machine too: no example has a time limit.
settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")

PASSWORD = "a password for tests"
SIGNED = {"signing_password": PASSWORD}
"""What a page of an act that is signed asks for besides."""

# Each person by name: the role, or None for an account without one.
PEOPLE: dict[str, Role | None] = {
    "coordinator": Role.COORDINATOR,
    "second_coordinator": Role.COORDINATOR,
    "qa": Role.QA,
    "supervisor": Role.SUPERVISOR,
    "auditor": Role.AUDITOR,
    "no_role": None,
}


@pytest.fixture
def people(db: None) -> dict[str, Any]:
    """Every fixed person by name, and "nobody", who is signed out."""
    users = [
        User(username=name, first_name=name.replace("_", " ").title(), password=make_password(PASSWORD))
        for name in PEOPLE
    ]
    # Most tests ask for them: three questions to the database in place of thirty.
    made: dict[str, Any] = {user.username: user for user in User.objects.bulk_create(users)}
    groups = {group.name: group for group in Group.objects.all()}
    belongs = User.groups.through
    belongs.objects.bulk_create(
        belongs(user=made[name], group=groups[role.value]) for name, role in PEOPLE.items() if role is not None
    )
    keep(user.pk for user in made.values())
    return made | {"nobody": AnonymousUser()}


@pytest.fixture
def coordinator(people: dict[str, Any]) -> User:
    return people["coordinator"]


@pytest.fixture
def second_coordinator(people: dict[str, Any]) -> User:
    """Somebody else who may approve."""
    return people["second_coordinator"]


@pytest.fixture
def qa(people: dict[str, Any]) -> User:
    return people["qa"]


@pytest.fixture
def supervisor(people: dict[str, Any]) -> User:
    return people["supervisor"]


@pytest.fixture
def auditor(people: dict[str, Any]) -> User:
    return people["auditor"]


@pytest.fixture
def no_role(people: dict[str, Any]) -> User:
    return people["no_role"]


@pytest.fixture
def client_of(people: dict[str, Any]) -> Callable[[str], Client]:
    """A browser of the person with that name, signed in unless it is "nobody": `client_of("qa").get("/")`."""

    def sign_in(name: str) -> Client:
        client = Client()
        if name != "nobody":
            client.force_login(people[name])
        return client

    return sign_in


DATABASE_FIXTURES = {"db", "transactional_db", "django_db_setup", "live_server"}


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """With ONLY_DATABASE=1 leave out what asks no database: on another database it would be the same test once more."""
    if not os.environ.get("ONLY_DATABASE"):
        return
    left_out = [item for item in items if not _asks_database(item)]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [item for item in items if _asks_database(item)]


def _asks_database(item: pytest.Item) -> bool:
    fixtures = DATABASE_FIXTURES.intersection(getattr(item, "fixturenames", ()))
    return bool(fixtures) or item.get_closest_marker("django_db") is not None


@contextmanager
def dropped_triggers(database: Any, which: str = "%refuse%") -> Iterator[None]:
    """The refusing triggers laid aside, and put back in the same words."""
    with database.cursor() as cursor:
        if database.vendor == "postgresql":
            cursor.execute(
                "SELECT tgname, tgrelid::regclass::text, pg_get_triggerdef(oid) FROM pg_trigger "
                "WHERE NOT tgisinternal AND tgname LIKE %s",
                [which],
            )
            triggers = [(f"{name} ON {table}", statement) for name, table, statement in cursor.fetchall()]
        else:
            cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
            triggers = cursor.fetchall()
        for name, _ in triggers:
            cursor.execute(f"DROP TRIGGER {name}")
        try:
            yield
        finally:
            for _, statement in triggers:
                cursor.execute(statement)


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> Iterator[None]:
    """Asked for before the database of the tests is made: on SQLite a copy of the kept one."""
    with database_image.copied():
        yield


@pytest.fixture(autouse=True, scope="session")
def flush_past_triggers() -> Iterator[None]:
    """Let tests with a live server empty the database, whose triggers refuse to let frozen rows go.

    The triggers are laid aside while the tables are emptied and put back in the same words.
    """
    operations = type(connection.ops)
    plain = operations.execute_sql_flush
    which = "%refuse_truncate" if connection.vendor == "postgresql" else "%"

    def flush(self: Any, sql_list: list[str]) -> None:
        with dropped_triggers(connection, which):
            plain(self, sql_list)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(operations, "execute_sql_flush", flush)
        yield


@pytest.fixture
def no_own_grades() -> Iterator[None]:
    """The firm holds no steel grade of its own, and no database is asked for any."""
    token = grades._read.set([()])
    yield
    grades._read.reset(token)
