"""What a lapse would leave without anybody: a page, and the part of it that the page of what falls due fetches."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from joints.ready import day_of
from joints.uncovered_by_lapse import uncovered_by_lapse
from register.base.views import PlainPage
from register.roles import Capability

IN_PART = 6
"""Lapses that the part shows; the page shows all."""


class UncoveredByLapse(PlainPage):
    """If a certificate lapses: how many joints of running jobs have nobody."""

    required_capability = Capability.VIEW
    page_title = _("What a lapse would leave without anybody")
    lead = _(
        "Joints of running jobs, planned for then, later or no day, that somebody may weld now and nobody could then; "
        "all other certificates kept valid."
    )

    @property
    def is_part(self) -> bool:
        """True where another page fetches it."""
        return bool(self.request.htmx)  # type: ignore[attr-defined]

    def get_template_names(self) -> list[str]:
        return ["joints/_uncovered.html" if self.is_part else "joints/uncovered.html"]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        found = uncovered_by_lapse(day_of(self.on))
        shown = found.lapses[:IN_PART] if self.is_part else found.lapses
        more = len(found.lapses) - len(shown)
        return super().get_context_data(
            lapses=shown, together=found.together, more=more, is_part=self.is_part, **kwargs
        )
