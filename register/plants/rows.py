"""Rows that belong to a plant, themselves or through what they are part of. Out of sight is not there.

`InPlant` has a plant of its own; `PartOf` belongs where its whole does (`part_of` names the foreign key). Both are
found, counted, listed and changed only within the reach of the work at hand (register.plants.reach).
"""

from collections.abc import Iterable
from typing import Any, ClassVar

from django.apps import apps
from django.core.exceptions import NON_FIELD_ERRORS, EmptyResultSet, FullResultSet, PermissionDenied, ValidationError
from django.db import models
from django.db.models import F, Func, Q
from django.utils.translation import gettext

from register.plants.reach import NOTHING, current, whole


class PlantField(models.ForeignKey):
    """The plant that a row belongs to. A new row that names none gets that of the work at hand."""

    def __init__(self, to: Any = "register.Plant", on_delete: Any = models.PROTECT, **kwargs: Any) -> None:
        super().__init__(to, on_delete, **{"editable": False, "blank": True, "related_name": "+", **kwargs})

    def pre_save(self, model_instance: models.Model, add: bool) -> Any:
        """Raises PlantNotChosen where several plants are in sight."""
        if add and getattr(model_instance, self.attname) is None and hasattr(model_instance, "new_plant"):
            setattr(model_instance, self.attname, model_instance.new_plant())
        return super().pre_save(model_instance, add)


class InReach(Func):
    """True for the rows in sight. Worked out when the query runs; where all is in sight it leaves no trace in it."""

    def __init__(self, model: type[models.Model]) -> None:
        super().__init__(F(model.reach_field()), output_field=models.BooleanField())  # type: ignore[attr-defined]
        self.model = model

    def as_sql(self, compiler: Any, connection: Any, **extra: Any) -> Any:  # type: ignore[override]
        plants = current().plants
        if plants is None:
            raise FullResultSet
        if not plants:
            raise EmptyResultSet
        inner = self.model.in_reach(plants)  # type: ignore[attr-defined]
        column, params = compiler.compile(self.get_source_expressions()[0])
        if connection.vendor == "sqlite":
            # A mere test on the row: SQLite would otherwise begin with the plant, and sort all that it holds.
            column = f"+{column}"
        if isinstance(inner, models.QuerySet):
            sql, more = inner.query.get_compiler(connection=connection).as_sql()
            return f"{column} IN ({sql})", (*params, *more)
        marks = ", ".join(["%s"] * len(inner))
        return f"{column} IN ({marks})", (*params, *inner)


class ReachQuerySet(models.QuerySet[Any]):
    """Rows in sight; what is made at once is held to the same bounds as what is saved one by one."""

    def bulk_create(self, objs: Iterable[Any], *args: Any, **kwargs: Any) -> list[Any]:
        rows = list(objs)
        refuse_outside(rows)
        return super().bulk_create(rows, *args, **kwargs)

    def bulk_update(self, objs: Iterable[Any], *args: Any, **kwargs: Any) -> int:
        rows = list(objs)
        refuse_outside(rows)
        return super().bulk_update(rows, *args, **kwargs)


class ReachManager(models.Manager.from_queryset(ReachQuerySet)):  # type: ignore[misc]
    """Finds what is in sight."""

    def get_queryset(self) -> Any:
        return super().get_queryset().filter(InReach(self.model))


class _Row(models.Model):
    """What both share: what is out of reach is neither saved nor deleted."""

    everything = models.Manager()
    """Rows of all plants, for the register's own affairs."""

    class Meta:
        abstract = True

    @property
    def home_plant(self) -> int | None:
        """The key of the plant that it belongs to."""
        raise NotImplementedError

    @classmethod
    def also_in_reach(cls, plants: frozenset[int]) -> Q | None:
        """Further rows that may be seen but not changed, such as people who are lent; None for none."""
        return None

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Raises PermissionDenied for a row of a plant out of reach."""
        refuse_outside([self])
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied for a row of a plant out of reach."""
        refuse_outside([self])
        return super().delete(*args, **kwargs)


class InPlant(_Row):
    """A row with a plant of its own."""

    objects = ReachManager()
    plant = PlantField()

    class Meta:
        abstract = True

    @classmethod
    def reach_field(cls) -> str:
        """The column that decides."""
        own = cls.also_in_reach.__func__ is _Row.also_in_reach.__func__  # type: ignore[attr-defined]
        return "plant_id" if own else "pk"

    @classmethod
    def in_reach(cls, plants: frozenset[int]) -> Any:
        """The values of that column that are in sight."""
        more = cls.also_in_reach(plants)
        if more is None:
            return sorted(plants)
        return cls.everything.filter(Q(plant__in=sorted(plants)) | more).values("pk")

    @property
    def home_plant(self) -> int | None:
        return self.plant_id

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Raises PermissionDenied for a plant out of reach, PlantNotChosen before anything is written."""
        if self.plant_id is None:
            self.plant_id = self.new_plant()
        super().save(*args, **kwargs)

    def new_plant(self) -> int:
        """The plant of a new row. Raises PlantNotChosen where several are in sight."""
        return current().home

    def validate_constraints(self, exclude: Any = None) -> None:
        """What is unique within a plant is held against the rows of its own plant, the others against all plants."""
        if self.plant_id is None:
            self.plant_id = self.new_plant()
        with whole():
            super().validate_constraints(exclude)
            problems = [problem for one in self._meta.constraints if (problem := self._twin(one, exclude))]
        if problems:
            raise ValidationError({name: found for one in problems for name, found in one.items()})

    def _twin(self, constraint: Any, exclude: Any) -> dict[str, Any]:
        """The problem, by field, where another row of the plant has the same value. Forms do not show the plant."""
        first, *others = getattr(constraint, "fields", ()) or ("",)
        if first != "plant" or set(others) & set(exclude or ()):
            return {}
        try:
            constraint.validate(type(self), self)
        except ValidationError as problem:
            if len(others) > 1:
                return {NON_FIELD_ERRORS: problem.messages}
            return {others[0]: self.unique_error_message(type(self), others)}
        return {}

    def unique_error_message(self, model_class: Any, unique_check: Any) -> ValidationError:
        """What is taken, by name."""
        if len(unique_check) > 1:
            return super().unique_error_message(model_class, unique_check)
        said = gettext("%(value)s is on file already; enter another.") % {"value": getattr(self, unique_check[0])}
        return ValidationError(said, code="unique")

    def validate_unique(self, exclude: Any = None) -> None:
        with whole():
            super().validate_unique(exclude)


class PartOf(_Row):
    """A row that belongs where its whole does."""

    part_of: ClassVar[str]
    objects = ReachManager()

    class Meta:
        abstract = True

    @classmethod
    def reach_field(cls) -> str:
        """The column that decides."""
        return cls._meta.get_field(cls.part_of).attname  # type: ignore[union-attr]

    @classmethod
    def in_reach(cls, plants: frozenset[int]) -> Any:
        """The keys of the wholes that are in sight."""
        whole_of = cls._meta.get_field(cls.part_of).related_model
        return whole_of._default_manager.order_by().values("pk")  # type: ignore[union-attr]

    @property
    def home_plant(self) -> int | None:
        found = getattr(self, self.part_of)
        return found.home_plant if found is not None else None

    def validate_constraints(self, exclude: Any = None) -> None:
        with whole():
            super().validate_constraints(exclude)

    def validate_unique(self, exclude: Any = None) -> None:
        with whole():
            super().validate_unique(exclude)


def plant_rows() -> list[type[models.Model]]:
    """The models of all apps whose rows belong to a plant."""
    return [model for model in apps.get_models() if issubclass(model, _Row)]


def refuse_outside(rows: Iterable[Any]) -> None:
    """Raise PermissionDenied where a row belongs to a plant out of reach. Asks nothing where all is in sight."""
    reach = current()
    if reach.plants is None:
        return
    for row in rows:
        plant = getattr(row, "home_plant", None)
        if plant is None and row._state.adding and reach is not NOTHING:
            plant = reach.home
        if not reach.holds(plant):
            raise PermissionDenied(gettext("This belongs to another plant: it may be read here, and is changed there."))


def own(thing: Any) -> Any:
    """The thing, for a page or call that changes it. Raises PermissionDenied for one that is lent or released here."""
    refuse_outside([thing])
    return thing


class ForPlantOrGroup:
    """Of a model with a `plant` that may be empty: what is for one plant, or for the whole group (None)."""

    plant_id: int | None

    @classmethod
    def reach_field(cls) -> str:
        """The column that decides what is in sight."""
        return "plant_id"

    @classmethod
    def in_reach(cls, plants: frozenset[int]) -> list[int]:
        """Those of one's own plant; what is for the whole group, the group alone sees."""
        return sorted(plants)

    def new_plant(self) -> int | None:
        """That of the work at hand; None where all plants are in sight."""
        return current().one

    @property
    def home_plant(self) -> int | None:
        """The key of the plant that it is for; None for the whole group."""
        return self.plant_id
