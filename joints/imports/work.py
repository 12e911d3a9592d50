"""Reading a list and taking it in as work in the background."""

from django.utils.translation import gettext

from joints.answers import count
from joints.imports.batch import check_batch, confirm
from joints.imports.table import Refusal
from joints.models import ImportBatch
from register.background.kinds import Facts, background
from register.background.progress import Progress
from register.roles import Capability

AT_ONCE = 1000
"""A list of so many rows is read, or taken in, within the request."""


def about_list(batch_id: int) -> Facts:
    """The list and its job."""
    batch = ImportBatch.objects.select_related("job").only("file_name", "job").filter(pk=batch_id).first()
    if batch is None:
        return []
    return [
        (gettext("List"), batch.file_name, batch.get_absolute_url()),
        (gettext("Job"), str(batch.job), batch.job.get_absolute_url()),
    ]


@background("Take in a list of welds", Capability.IMPORT_JOINTS, refusals=(Refusal,), about=about_list)
def take_in_list(progress: Progress, batch_id: int) -> None:
    """Write all joints of a batch, or none."""
    with progress.whole():
        number = confirm(batch_id, progress.by, progress)
        job = ImportBatch.objects.select_related("job").only("job").get(pk=batch_id).job
        progress.outcome(f"{number:,} joints are on file.", job.get_absolute_url(), "See the job")


@background("Read a list of welds", Capability.IMPORT_JOINTS, refusals=(Refusal,), about=about_list)
def read_list(progress: Progress, batch_id: int) -> None:
    """Read a batch and compare it with the job; no joint is written."""
    with progress.whole():
        batch = check_batch(batch_id, progress)
        wrong = len(batch.errors)
        ended = f"{count(wrong, 'cell', 'cells')} cannot be taken; nothing was written" if wrong else "all can be taken"
        said = f"{count(batch.row_count, 'row', 'rows')} read and compared: {ended}."
        progress.outcome(said, batch.get_absolute_url(), "See what it holds")
