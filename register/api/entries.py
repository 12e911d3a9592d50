"""Entries of a question: keys, dates and texts, bounded, so that none reaches the database that it cannot hold."""

from datetime import date, datetime
from decimal import Decimal
from typing import Annotated

from django.utils import timezone
from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from codes.values import number
from register.base.asof import EARLIEST, LATEST

BIGGEST_KEY = 2**63 - 1


def _plain(text: str) -> str:
    """Raises ValueError for what a database or a page cannot hold."""
    if any(ch < " " and ch not in "\t\r\n" for ch in text) or any("\ud800" <= ch <= "\udfff" for ch in text):
        raise ValueError("holds a sign that is no text; leave it out")
    return text.strip()


def _known_year(day: date) -> date:
    if not EARLIEST <= day <= LATEST:
        raise ValueError(f"take a day from {EARLIEST.isoformat()} to {LATEST.isoformat()}")
    return day


def _known_moment(moment: datetime) -> datetime:
    _known_year(moment.date())
    return moment if timezone.is_aware(moment) else timezone.make_aware(moment)


Key = Annotated[int, Field(ge=1, le=BIGGEST_KEY, description="key of one thing, as the lists give it")]
Text = Annotated[str, Field(max_length=200), AfterValidator(_plain)]
Long = Annotated[str, Field(max_length=2000), AfterValidator(_plain)]
Day = Annotated[date, AfterValidator(_known_year)]
Moment = Annotated[datetime, AfterValidator(_known_moment)]


class Sent(BaseModel):
    """A body, or a part of one. What it does not know it refuses: a misspelt name would count as not stated."""

    model_config = ConfigDict(extra="forbid")


class OnDay(BaseModel):
    """The day asked about; today unless stated."""

    on: Day | None = Field(None, description="the day asked about, YYYY-MM-DD; today unless stated")

    @property
    def day(self) -> date:
        """The day to answer for, in the shop's own zone."""
        return self.on or timezone.localdate()


def _as_text(value: object) -> object:
    return number(value) if isinstance(value, Decimal) else value


Figure = Annotated[str | None, BeforeValidator(_as_text)]
"""A figure in an answer: an exact decimal as text, or null where it is not stated."""
