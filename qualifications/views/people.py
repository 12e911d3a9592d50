"""The list of people, the page of one person, and the form."""

from typing import Any, ClassVar

from django.db.models import QuerySet
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from qualifications.changes import changes_of_person
from qualifications.filters import PersonFilter
from qualifications.forms import PERSON_PLAN, PersonForm
from qualifications.models import Loan, Person
from qualifications.offers import offer
from qualifications.past import past_of
from qualifications.sheets import certificate_view
from qualifications.tables import PersonTable
from qualifications.timeline import rows, view_of
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.held.firm import firm_settings
from register.plants.reach import current
from register.roles import Capability

LOG_ROWS = 20


class PersonList(ListPage):
    """Everybody who welds, with what they hold on the date asked about."""

    required_capability = Capability.VIEW
    page_title = _("People")
    table_class = PersonTable
    filterset_class = PersonFilter
    create_label = _("Add a person")
    empty: ClassVar[dict[str, str]] = {
        "title": _("Nobody is on file yet."),
        "teach": _(
            "Add the people who weld, then their certificates as printed; what each certificate covers "
            "and until when is worked out from the test."
        ),
    }

    def get_queryset(self) -> QuerySet[Person]:
        return Person.objects.prefetch_related("certificates__events")

    def get_table_kwargs(self) -> dict[str, Any]:
        return {"on": self.on, "settings": firm_settings()}

    def get_create_url(self) -> str:
        return reverse("qualifications:person_new") if self.may(Capability.EDIT_PEOPLE) else ""


class PersonPage(DetailPage):
    """One person: certificates as of the date asked about, what falls due, what was welded, who changed what."""

    required_capability = Capability.VIEW
    template_name = "qualifications/person.html"
    queryset = Person.objects.select_related("supervisor").prefetch_related("certificates__events")

    def get_page_title(self) -> str:
        return self.object.name

    def get_lead(self) -> str:
        left = self.object.left_on
        return (
            gettext("Last day of work %(left)s; certificates count up to that day.") % {"left": left.isoformat()}
            if left
            else ""
        )

    def get_facts(self) -> list[tuple[str, ...]]:
        person = self.object
        boss = person.supervisor
        return [
            (gettext("Stamp or payroll number"), person.identification),
            (gettext("Employer"), person.employer),
            (gettext("Place of work"), person.site),
            (gettext("Reports to"), (boss.get_full_name() or boss.get_username()) if boss else ""),
            *self.loans(),
            (
                gettext("Born"),
                " in ".join(filter(None, (person.born_on.isoformat() if person.born_on else "", person.born_in))),
            ),
        ]

    def get_acts(self) -> list[Act]:
        card = Act(gettext("Pocket card"), reverse("qualifications:pocket_card", args=[self.object.pk]))
        if not self.may(Capability.EDIT_PEOPLE):
            return [card]
        if not current().holds(self.object.plant_id):
            return [card]
        lend = Act(gettext("Lend to another plant"), reverse("qualifications:lend", args=[self.object.pk]))
        return [
            Act(
                gettext("Add a certificate"),
                reverse("qualifications:certificate_new", args=[self.object.pk]),
                main=True,
            ),
            card,
            Act(gettext("Change"), reverse("qualifications:person_edit", args=[self.object.pk])),
            *([lend] if current().several else []),
        ]

    def loans(self) -> list[tuple[str, ...]]:
        """Where this person is lent, with the way to the last day."""
        if not current().several:
            return []
        own = current().holds(self.object.plant_id) and self.may(Capability.EDIT_PEOPLE)
        rows = self.object.loans.select_related("plant")
        where = "qualifications:loan_end"
        return [("Lent", _days(one), reverse(where, args=[one.pk])) if own else ("Lent", _days(one)) for one in rows]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        user, settings = self.request.user, firm_settings()
        certificates = [certificate_view(one, self.on, user, settings) for one in self.object.certificates.all()]
        order = sorted(certificates, key=lambda c: (not c.state.valid, c.certificate.code, c.certificate.number))
        mine = rows((offer(one, settings) for one in self.object.certificates.all()), self.on)
        start, end = view_of(self.on)
        log = self.object.weld_log.filter(on__lte=self.on)[:LOG_ROWS]
        return super().get_context_data(
            certificates=order,
            valid_count=sum(1 for c in certificates if c.state.valid),
            timeline=mine if len(certificates) > 1 else [],
            timeline_start=start,
            timeline_end=end,
            log=log,
            log_url=f"{reverse('qualifications:weld_log')}?person={self.object.pk}",
            history=changes_of_person(self.object),
            past=past_of(self.object, self.on, timezone.localdate()),
            **kwargs,
        )


def _days(loan: Loan) -> str:
    """Example: "to North works from 2026-11-01 to 2026-11-30"."""
    end = f"to {loan.until.isoformat()}" if loan.until else "until further notice"
    return f"to {loan.plant} from {loan.from_on.isoformat()} {end}"


class PersonNew(FormPage):
    """The form for a new person."""

    required_capability = Capability.EDIT_PEOPLE
    model = Person
    form_class = PersonForm
    plan = PERSON_PLAN
    page_title = _("A new person")
    saved_message = _("{0} is on file.")

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object else reverse("qualifications:person_list")


class PersonEdit(PersonNew):
    """The form for somebody on file."""

    saved_message = _("Saved: {0}.")

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": self.object}
