"""Taking in a list as work in the background."""

from joints.imports.batch import confirm
from joints.imports.table import Refusal
from joints.models import ImportBatch
from register.background.kinds import background
from register.background.progress import Progress
from register.roles import Capability

AT_ONCE = 1000
"""A list of so many rows is taken in within the request."""


@background("Take in a list of welds", Capability.IMPORT_JOINTS, refusals=(Refusal,))
def take_in_list(progress: Progress, batch_id: int) -> None:
    """Write all joints of a batch, or none."""
    with progress.whole():
        number = confirm(batch_id, progress.by)
        job = ImportBatch.objects.select_related("job").only("job").get(pk=batch_id).job
        progress.outcome(f"{number:,} joints are on file.", job.get_absolute_url(), "See the job")
