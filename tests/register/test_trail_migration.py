"""Entries written before the chain are chained by the migration, and frozen again after it."""

from typing import Any

import pytest
from django.db import DatabaseError, connection, transaction
from django.db.migrations.executor import MigrationExecutor

from register.models import AuditEntry
from register.trail.verify import verify


@pytest.mark.django_db(transaction=True)
def test_old_entries_are_chained(request: pytest.FixtureRequest) -> None:
    executor = MigrationExecutor(connection)
    newest = executor.loader.graph.leaf_nodes()
    request.addfinalizer(lambda: MigrationExecutor(connection).migrate(newest))
    before: Any = executor.migrate([("register", "0003_firm_readings")]).apps.get_model("register", "AuditEntry")
    for n in range(3):
        before.objects.create(act=f"act {n}", after={"n": n})
    MigrationExecutor(connection).migrate(newest)
    assert verify().whole
    assert list(AuditEntry.objects.order_by("number").values_list("act", "number")) == [
        ("act 0", 1),
        ("act 1", 2),
        ("act 2", 3),
    ]
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        AuditEntry.objects.update(act="x")
    with pytest.raises(DatabaseError, match="never deleted"), transaction.atomic():
        AuditEntry.objects.all()._raw_delete("default")
