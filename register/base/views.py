"""Pages that every app builds on: a list, one thing, a form, an act to confirm.

Each states `required_capability` (see register.roles) and asks its own app for answers; it decides nothing itself.
"""

from register.base.entry import FormPage
from register.base.lists import ListPage
from register.base.pages import Act, ConfirmPage, DetailPage, Page, PlainPage

__all__ = ["Act", "ConfirmPage", "DetailPage", "FormPage", "ListPage", "Page", "PlainPage"]
