"""The model that was sent in, with the answers of a day in it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from joints.model_files.extract import extract_of
from joints.model_files.write_back import written_back
from joints.models import ImportBatch, Joint
from joints.ready import day_of
from qualifications.models import Person
from register.base.asof import asked_date
from register.evidence import store
from register.roles import Capability, requires


@requires(Capability.VIEW)
def model_answers(request: HttpRequest, pk: int) -> HttpResponse:
    """The bytes of the model of a batch, with a property set of ours at each weld that is on file."""
    on = asked_date(request)
    models = ImportBatch.objects.filter(kind=ImportBatch.MODEL, status=ImportBatch.CONFIRMED)
    batch = get_object_or_404(models.select_related("job"), pk=pk)
    joints = Joint.objects.filter(assembly__job=batch.job).exclude(model_id="").order_by("pk")
    ids = dict(joints.values_list("pk", "model_id"))
    people = {person.pk: str(person) for person in Person.objects.all()}
    data = written_back(
        store.read(batch.sha256), extract_of(batch), day_of(on).answers(joints), ids=ids, people=people, on=on
    )
    response = HttpResponse(data, content_type="application/x-step")
    response["Content-Disposition"] = f'attachment; filename="answers-{batch.pk}-{on.isoformat()}.ifc"'
    return response
