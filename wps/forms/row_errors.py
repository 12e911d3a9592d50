"""What is wrong in rows of runs: said in words, and as links to the cells for the head of the form."""

from collections.abc import Iterator, Sequence

from django import forms
from django.utils.functional import Promise
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from register.judged_words import told

Wrong = tuple[str, str | Promise, str]
"""(id of the cell, which run and column, what is wrong)"""


def wrong_cells(rows: Sequence[forms.BaseForm]) -> Iterator[Wrong]:
    """Row by row; the columns are named by the labels of the fields."""
    for at, form in enumerate(rows, start=1):
        for name, errors in form.errors.items():
            which = gettext("Run %(at)s, %(label)s") % {"at": at, "label": told(str(form[name].label))}
            for error in errors:
                yield form[name].id_for_label, which, told(str(error))


def in_words(rows: Sequence[forms.BaseForm]) -> list[str]:
    """Example: "Run 1, current, A: "much" is not a number; write for example 12.5."."""
    return [f"{which}: {error}" for _, which, error in wrong_cells(rows)]


def linked(rows: Sequence[forms.BaseForm]) -> list[SafeString]:
    """The same, each leading to its cell."""
    return [format_html('<a href="#{}">{}</a>: {}', *found) for found in wrong_cells(rows)]
