"""Reading a list and taking it in as work in the background."""

from joints.answers import count
from joints.imports.batch import check_batch, confirm
from joints.imports.table import Refusal
from joints.models import ImportBatch
from register.background.kinds import background
from register.background.progress import Progress
from register.roles import Capability

AT_ONCE = 1000
"""A list of so many rows is read, or taken in, within the request."""


@background("Take in a list of welds", Capability.IMPORT_JOINTS, refusals=(Refusal,))
def take_in_list(progress: Progress, batch_id: int) -> None:
    """Write all joints of a batch, or none."""
    with progress.whole():
        number = confirm(batch_id, progress.by, progress)
        job = ImportBatch.objects.select_related("job").only("job").get(pk=batch_id).job
        progress.outcome(f"{number:,} joints are on file.", job.get_absolute_url(), "See the job")


@background("Read a list of welds", Capability.IMPORT_JOINTS, refusals=(Refusal,))
def read_list(progress: Progress, batch_id: int) -> None:
    """Read a batch and compare it with the job; no joint is written."""
    with progress.whole():
        batch = check_batch(batch_id, progress)
        said = f"{count(batch.row_count, 'row', 'rows')} read and compared."
        progress.outcome(said, batch.get_absolute_url(), "See what it holds")
