"""`manage.py texts`: every text of the screens, as the template that translators fill.

Labels that Django makes of the names of fields stand in no file, and what the codes and the judges say is not marked:
both are added here.
"""

from argparse import ArgumentParser
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from django import forms
from django.apps import apps
from django.core.management.commands import makemessages
from django.forms.utils import pretty_name
from django.utils.text import capfirst

from codes.editions import all_editions
from register.held.tables import data_tables
from register.held.views import package_of
from register.judged_words.acts import names_in
from register.judged_words.texts import TOP, texts

OWN = ("register", "wps", "qualifications", "joints")
APART = ["tests/*", "bench/*", "scripts/*", "var/*", "staticfiles/*", "codes/*", "*/migrations/*", "*/static/*"]


class Command(makemessages.Command):
    """Writes locale/django.pot; with a language, its catalogue locale/<language>/LC_MESSAGES/django.po too."""

    help = "Collect the texts of the screens for translators (needs gettext)."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("languages", nargs="*", help="languages whose catalogue is brought up to date, such as de")

    def handle(self, *args: Any, languages: list[str], **options: Any) -> None:
        chosen = {
            "locale": languages, "exclude": [], "domain": "django", "all": not languages, "extensions": ["html", "py"],
            "symlinks": False, "ignore_patterns": APART, "use_default_ignore_patterns": True, "no_wrap": True,
            "no_location": False, "add_location": "file", "no_obsolete": False, "keep_pot": True,
            "no_fuzzy_matching": False,
        }  # fmt: skip
        super().handle(*args, **options | chosen)
        self.stdout.write(f"Texts collected in {self.default_locale_path}.")

    def process_files(self, file_list: list[Any]) -> None:
        super().process_files(file_list)
        pot = Path(self.default_locale_path) / "django.pot"
        with pot.open("a", encoding="utf-8") as file:
            file.writelines(entry(label) for label in sorted(set(made_labels())))
            file.writelines(entry(*said) for said in texts().messages.items())
            names = sorted({*names_in(TOP), *of_tables()} - texts().messages.keys())
            file.writelines(entry(name, "a name of a fact, in the trail") for name in names)


def of_tables() -> Iterator[str]:
    """Names, purposes and heads of the tables of the codes."""
    for package in {package_of(edition) for edition in all_editions()}:
        for table in data_tables(f"codes.{package}"):
            yield from (table.name, table.purpose, *table.heads)


def entry(text: str, note: str = "label of a field") -> str:
    """A text as an entry of the template. Example: `made_labels` gives "Own heat"; a judge says "tested {1}"."""
    said = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'\n#. {note}\nmsgid "{said}"\nmsgstr ""\n'


def made_labels() -> Iterator[str]:
    """The labels that Django makes of names of fields."""
    for model in apps.get_models():
        if model.__module__.split(".")[0] in OWN:
            for field in model._meta.fields:
                if field.verbose_name == field.name.replace("_", " "):
                    yield capfirst(str(field.verbose_name))
    for form in _below(forms.BaseForm):
        if form.__module__.split(".")[0] in OWN:
            for name, field in getattr(form, "base_fields", {}).items():
                if field.label is None:
                    yield pretty_name(name)


def _below(kind: type) -> Iterable[type]:
    for one in kind.__subclasses__():
        yield one
        yield from _below(one)
