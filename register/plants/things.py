"""Rows about one thing of any app, named by kind and key: whoever sees the thing sees them."""

from typing import Any

from django.apps import apps
from django.db import models
from django.db.models.functions import Cast

from register.plants.rows import ReachManager, plant_rows


class OfThing(models.Model):
    """A row with `subject_type` ("qualifications.certificate") and `subject_id`, in sight where its thing is."""

    objects = ReachManager()
    everything = models.Manager()

    class Meta:
        abstract = True

    @classmethod
    def reach_field(cls) -> str:
        """The column that decides what is in sight."""
        return "pk"

    @classmethod
    def in_reach(cls, plants: frozenset[int]) -> Any:
        """The keys of the rows whose thing is in sight."""
        found = models.Q(pk__in=())
        for model in plant_rows():
            keys = model._default_manager.order_by().annotate(as_text=Cast("pk", models.CharField())).values("as_text")
            found |= models.Q(subject_type=model._meta.label_lower, subject_id__in=keys)
        return cls.everything.filter(found).order_by().values("pk")

    @property
    def home_plant(self) -> int | None:
        """The plant of the thing."""
        model = apps.get_model(self.subject_type)  # type: ignore[attr-defined]
        thing = model._base_manager.filter(pk=self.subject_id).first()  # type: ignore[attr-defined]
        return getattr(thing, "home_plant", None)
