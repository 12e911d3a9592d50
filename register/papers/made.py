"""Files that work in the background made, given out to whoever asked for them, and removed after a while."""

import logging
import os
import time
from hashlib import file_digest
from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from register.background.models import Work
from register.background.views import may_see
from register.roles import Capability, requires

log = logging.getLogger("register.papers")
DAYS = 30
ENDINGS = {".pdf": "application/pdf", ".zip": "application/zip"}


def folder() -> Path:
    """Where they lie, VAR_DIR/made unless MADE_DIR is set; no part of a backup, as they can be made anew."""
    return Path(getattr(settings, "MADE_DIR", "") or Path(settings.VAR_DIR) / "made")


def path_of(work: int, name: str) -> Path:
    """The file of a piece of work. Raises ValueError for a name that is none of ours."""
    if Path(name).name != name or Path(name).suffix not in ENDINGS or name.startswith("."):
        raise ValueError(f"{name} is no name of a file that is made here")
    return folder() / str(work) / name


def room_for(work: int, name: str) -> Path:
    """The path to write a file to; what is older than a month goes away."""
    path = path_of(work, name)
    path.parent.mkdir(parents=True, exist_ok=True)
    for old in folder().glob("*/*"):
        if old.stat().st_mtime < time.time() - DAYS * 86_400:
            old.unlink(missing_ok=True)
    return path


def put(path: Path, made: Path) -> None:
    """Move a file that is whole to its place."""
    os.replace(made, path)


def digest_of(path: Path) -> str:
    """The SHA-256 of a file, read in pieces."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


@requires(Capability.VIEW)
@require_safe
def made_file(request: HttpRequest, pk: int, name: str) -> HttpResponseBase:
    """The file that a piece of work made, byte for byte, for whoever asked for it and whoever watches over work; of
    another plant's there is nothing to be seen.
    """
    try:
        work = Work.objects.get(pk=pk, result_url=request.path)
        if not may_see(work, request.user):
            messages.info(request, gettext("Somebody else had that file made: have it made for yourself."))
            return HttpResponseRedirect(reverse("background:list"))
        path = path_of(pk, name)
        if (known := (work.result or {}).get("sha256")) and digest_of(path) != known:
            log.error("The file %s of work %s is not what was made: it is not given out.", name, pk)
            raise Http404(gettext("This file was changed since it was made, and is not given out. Have it made anew."))
        file = path.open("rb")
    except (ValueError, OSError, Work.DoesNotExist):
        raise Http404(gettext("This file is not kept any more. Have it made anew.")) from None
    response = FileResponse(file, as_attachment=True, filename=name, content_type=ENDINGS[path.suffix])
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Cache-Control"] = "private, no-store"
    return response
