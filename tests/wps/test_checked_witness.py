"""Between check and approval: what was checked is what is laid before the approver."""

import pytest
from django.db import connection

from register.trail.verify import verify
from tests.conftest import dropped_triggers
from wps.models import ProcedureRevision, ProcedureRun, Status

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE wps_procedurerun SET process = '111' WHERE revision_id = {pk}", "runs changed since"),
        ("DELETE FROM wps_procedurerun WHERE revision_id = {pk}", "runs changed since"),
        ("DELETE FROM wps_procedurerevision_records WHERE procedurerevision_id = {pk}", "record_keys changed since"),
    ],
)
def test_a_change_after_the_check_is_told(in_force: ProcedureRevision, statement: str, words: str) -> None:
    assert ProcedureRun.objects.filter(revision=in_force).exists()
    assert verify().whole
    with dropped_triggers(connection), connection.cursor() as cursor:
        # As it stood before the approval.
        cursor.execute(
            "UPDATE wps_procedurerevision SET status = 'checked', approved_on = NULL WHERE id = %s", [in_force.pk]
        )
        cursor.execute(statement.format(pk=in_force.pk))
    assert ProcedureRevision.objects.get(pk=in_force.pk).status == Status.CHECKED
    from wps.witness import _checked

    assert words in "".join(_checked())
