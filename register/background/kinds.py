"""Kinds of work, and how a page starts one.

@background("Take in a list", Capability.IMPORT_JOINTS, refusals=(Refusal,))
def take_in_list(progress: Progress, batch_id: int) -> None: ...

work = take_in_list.start(request.user, "welds.csv", batch_id=7)
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from django.db import IntegrityError, transaction
from django.utils.module_loading import import_string
from django.utils.translation import gettext

from register.background.board import board
from register.background.models import UNFINISHED, Work
from register.background.progress import Progress
from register.plants.reach import current
from register.roles import Capability

Function = Callable[..., None]
Facts = list[tuple[str, ...]]
About = Callable[..., Facts]
"""What a piece of work is about, from its arguments: (term, value, url), for its page in every state."""


def nothing(**arguments: Any) -> Facts:
    """Work that is about no one thing."""
    return []


class Refused(ValueError):
    """Why the work cannot be done, in words for whoever asked."""


@dataclass(frozen=True)
class Kind:
    """A function that can be done in the background, and what one must hold to have it done.

    `refusals`: exceptions whose text is meant for whoever asked; any other is a fault of the register.
    `about`: what its page leads back to, however it ended; nothing where that is no longer on file.
    """

    function: Function
    label: str
    capability: Capability
    refusals: tuple[type[Exception], ...]
    about: About = nothing

    @property
    def path(self) -> str:
        """The dotted path by which a worker finds it."""
        return f"{self.function.__module__}.{self.function.__name__}"

    def __call__(self, progress: Progress, **arguments: Any) -> None:
        """Do it here and now."""
        self.function(progress, **arguments)

    def key(self, **arguments: Any) -> str:
        """What tells this question, asked at the plant at hand, from every other."""
        plant = current().one
        said = [self.path, arguments] if plant is None else [self.path, arguments, plant]
        return sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()

    def start(self, by: Any, title: str, *, small: bool = False, **arguments: Any) -> Work:
        """Put it into the queue; done at once, in this request, where it is `small`. Arguments are JSON values.

        Where the same work is waiting or under way already, that one is returned.
        """
        from register.background.run import enqueue, run_here

        plant, key = current().one, self.key(**arguments)
        work = Work(label=self.label, title=title[:250], function=self.path, arguments=arguments, key=key)
        work.asked_by, work.asked_by_name, work.plant_id = by, by.get_username(), plant
        try:
            with transaction.atomic():
                work.save()
                if not small:
                    enqueue(work)
        except IntegrityError:
            return Work.everything.get(key=key, state__in=UNFINISHED)
        # A number may be used again after a restore: nothing said of an earlier one counts.
        board().forget(work.pk)
        if small:
            run_here(work)
        return work


def background(
    label: str, capability: Capability, *, refusals: tuple[type[Exception], ...] = (), about: About = nothing
) -> Callable[[Function], Kind]:
    """Make a function of a module a kind of work. It takes a Progress first, then its arguments by name."""

    def made(function: Function) -> Kind:
        return Kind(function, label, capability, (Refused, *refusals), about)

    return made


def kind_of(path: str) -> Kind:
    """The kind that a piece of work names. Raises Refused where this version of the register has it no more."""
    try:
        found = import_string(path)
    except ImportError:
        found = None
    if not isinstance(found, Kind):
        raise Refused(gettext("This version of the register does not know this kind of work any more. Start it anew."))
    return found
