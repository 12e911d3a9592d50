"""What the kept database of the tests is named after: a change that it would hide makes another one."""

from pathlib import Path

import pytest

from tests.database_image import ROOT, written_in

PROJECT = {
    "shop/apps.py": "def ready():\n    from shop.after import make",
    "shop/migrations/0001_first.py": "import shop.rows\nfrom shop.far import (\n    away,\n    WORD,\n)",
    "shop/rows.py": "from decimal import Decimal",
    "shop/after.py": "make = 1",
    "shop/far/__init__.py": "from shop.words import WORD",
    "shop/far/away.py": "",
    "shop/words.py": "WORD = 1",
    "shop/views.py": "from shop.words import WORD",
    "decimal_of_ours.py": "",
}


def test_all_that_a_migration_imports_counts_and_nothing_else(tmp_path: Path) -> None:
    for name, text in PROJECT.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    left_out = {"shop/views.py", "decimal_of_ours.py"}
    assert {str(path.relative_to(tmp_path)) for path in written_in(tmp_path)} == set(PROJECT) - left_out


@pytest.mark.parametrize(
    "name",
    [
        "register/migrations/0001_initial.py",
        "register/triggers.py",
        "register/trail/chain.py",
        "register/plants/reach.py",
        "register/roles.py",
        "joints/choices.py",
        "codes/terms.py",  # joints/choices.py takes the choices of a column from there
        "wps/preparation.py",
    ],
)
def test_what_the_migrations_of_the_project_are_made_of(name: str) -> None:
    assert ROOT / name in written_in(ROOT)
