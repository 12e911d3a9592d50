"""At which plant people count on a day, and lending them."""

from collections.abc import Callable
from datetime import date
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet

from qualifications.lending.models import Loan
from qualifications.models import Person
from register.audit import record_act
from register.plants.models import Plant
from register.plants.reach import whole


def standing_on(day: date) -> QuerySet[Loan]:
    """The loans of a day, of all plants."""
    return Loan.everything.filter(Q(until__isnull=True) | Q(until__gte=day), from_on__lte=day)


def counting(plant: int, on: date) -> Callable[[int, int | None], bool]:
    """Who counts at a plant on a day, by key of person and of home plant: its own people, but for those lent elsewhere,
    and those lent to it. One query.
    """
    where = dict(standing_on(on).order_by("at", "pk").values_list("person_id", "plant_id"))
    return lambda person, home: where.get(person, home) == plant


@transaction.atomic
def lend(person: Person, plant: Plant, from_on: date, until: date | None, reason: str, by: Any) -> Loan:
    """Lend somebody. Raises ValueError naming field and remedy where it cannot be."""
    held = Person.objects.select_for_update(of=("self",)).get(pk=person.pk)
    if plant.pk == held.plant_id:
        raise ValueError(f"Lent to: {held.name} belongs to {plant} already; choose another plant.")
    if until is not None and until < from_on:
        raise ValueError("Last day there: it lies before the first.")
    for other in Loan.everything.filter(person=held).select_related("plant", "person"):
        if (other.until is None or other.until >= from_on) and (until is None or until >= other.from_on):
            raise ValueError(f"First day there: {other} already; end that first, or take other days.")
    made = Loan(person=held, plant=plant, from_on=from_on, until=until, reason=reason.strip()[:250])
    made.by_name = by.get_full_name() or by.get_username()
    made.save()
    held.save()  # what is kept of this person's certificates is read anew, at both plants
    record_act(by, "lent", held, after=said(made))
    return made


@transaction.atomic
def end(loan: Loan, until: date, by: Any) -> None:
    """Set the last day of a loan, earlier or later. Raises ValueError naming the remedy."""
    held = Loan.objects.select_for_update(of=("self",)).select_related("plant", "person").get(pk=loan.pk)
    if until < held.from_on:
        raise ValueError(f"Last day there: take {held.from_on.isoformat()}, the first day, or a later one.")
    before = said(held)
    held.until = until
    with whole():
        twin = Loan.objects.filter(person=held.person_id, from_on__range=(held.from_on, until)).exclude(pk=held.pk)
        if twin.exists():
            raise ValueError("Last day there: another loan of this person begins before it.")
    held.save()
    held.person.save()
    record_act(by, "changed the loan of", held.person, before=before, after=said(held))


def said(loan: Loan) -> dict[str, str | None]:
    """A loan as the trail keeps it."""
    until = loan.until.isoformat() if loan.until else None
    return {"to": str(loan.plant), "from": loan.from_on.isoformat(), "until": until, "reason": loan.reason}
