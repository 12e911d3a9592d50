"""Two questions a watchman asks: is the process alive, and can it serve?"""

from django.contrib.auth.decorators import login_not_required
from django.db import Error, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse


@login_not_required
def alive(request: HttpRequest) -> JsonResponse:
    """200 as long as the process answers; touches nothing else."""
    return JsonResponse({"alive": True})


@login_not_required
def ready(request: HttpRequest) -> JsonResponse:
    """200 if the database answers and is migrated, 503 with the reason if not."""
    reason = not_ready()
    return JsonResponse({"ready": reason is None, "reason": reason}, status=200 if reason is None else 503)


def not_ready() -> str | None:
    """Why the register cannot serve, or None. Names no host, user or path: anybody may ask."""
    try:
        executor = MigrationExecutor(connection)
        waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except Error:
        return "The database does not answer."
    return f"{len(waiting)} migrations wait: run manage.py migrate." if waiting else None
