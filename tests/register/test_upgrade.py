"""A register of 0.9.0 as that version wrote it, brought up to this version: nothing lost, all of it answered.

The two dumps in tests/register/old were made by the code of that version from its own demonstration, one more list
taken in and one change of a joint. They are never made again: what later versions write does not stand for 0.9.0.
"""

import gzip
import json
import sqlite3
from pathlib import Path

import pytest
from django.db import connection

from tests.register.test_backup import NewShop, Shop, new_shop  # noqa: F401  (a fixture)

OLD = Path(__file__).parent / "old"
LATER = {"django_content_type", "auth_permission", "django_migrations"}
"""Django writes more rows into these with every new table."""
UPGRADE = """
import django, json; django.setup()
from django.core.management import call_command
from django.db import connection
def counted():
    with connection.cursor() as cursor:
        tables = [table.name for table in connection.introspection.get_table_list(cursor) if table.type == "t"]
        counts = {}
        for table in tables:
            cursor.execute(f'SELECT count(*) FROM "{table}"')
            counts[table] = cursor.fetchone()[0]
    return counts
before = counted()
call_command("migrate", interactive=False, verbosity=0)
print(json.dumps([before, counted()]))
"""
LOOK = """
import django, json; django.setup()
from datetime import date
from django.contrib.auth.models import User
from django.test import Client
from joints.models import ImportBatch, Job, Joint
from joints.ready import day_of
from qualifications.models import Certificate
from register.trail.verify import verify
from wps.models import ProcedureRevision, TestRecord
trail = verify()
joints = list(Joint.objects.order_by("pk"))
answers = day_of(date(2026, 11, 27)).answers(Joint.objects.order_by("pk"))
client = Client()
client.force_login(User.objects.get(username="marta"))
things = [Job.objects.last(), joints[0], joints[-1], Certificate.objects.first(), TestRecord.objects.first()]
things += [ProcedureRevision.objects.filter(status="approved").first(), ImportBatch.objects.order_by("pk").last()]
pages = {thing.get_absolute_url(): client.get(thing.get_absolute_url()).status_code for thing in things}
print(json.dumps({"trail": [trail.problem, trail.differs], "joints": len(joints), "answers": len(answers),
    "pages": sorted(set(pages.values())), "changed": joints[0].remarks, "versions": joints[0].history.count(),
    "taken": Joint.objects.filter(source__file_name="old.csv").count()}))
"""


def load_old(shop: Shop) -> None:
    """Put the dump of 0.9.0 into the empty database of a shop."""
    kind = "postgres" if connection.vendor == "postgresql" else "sqlite"
    text = gzip.decompress((OLD / f"0.9.0-{kind}.sql.gz").read_bytes()).decode()
    if kind == "sqlite":
        with sqlite3.connect(shop.folder / "register.sqlite3") as database:
            database.executescript(text)
        database.close()
        return
    import psycopg

    with psycopg.connect(shop.environment["DATABASE_URL"].replace("postgres://", "postgresql://")) as server:
        server.execute(text.encode())


@pytest.mark.django_db
def test_from_the_first_version_on(new_shop: NewShop) -> None:  # noqa: F811
    shop = new_shop()
    load_old(shop)
    before, after = json.loads(shop.run("-c", UPGRADE))
    assert before["joints_joint"] > 300 and before["register_auditentry"] > 50
    lost = {name: (count, after.get(name)) for name, count in before.items() if after.get(name, 0) < count}
    grown = {name: (count, after[name]) for name, count in before.items() if after.get(name, 0) > count}
    assert not lost, f"rows lost by the upgrade: {lost}"
    assert not grown.keys() - LATER, f"rows made up by the upgrade: {grown}"
    found = json.loads(shop.run("-c", LOOK))
    assert found["trail"] == ["", ""]
    assert found["joints"] == found["answers"] == before["joints_joint"]
    assert found["pages"] == [200]
    assert (found["changed"], found["versions"], found["taken"]) == ("changed under 0.9.0", 2, 25)
