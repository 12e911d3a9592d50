"""What the papers for whoever runs the register say is so."""

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

TOP = Path(__file__).resolve().parents[2]
OPERATIONS = (TOP / "docs" / "operations.md").read_text(encoding="utf-8")
READ = set(re.findall(r'env\.\w+\("(\w+)"', (TOP / "register" / "settings.py").read_text(encoding="utf-8")))


def test_every_variable_that_is_read_is_explained() -> None:
    assert {"VAR_DIR", "DATABASE_URL", "PROXIES", "LOG_FORMAT"} <= READ
    missing = {name for name in READ if f"`{name}`" not in OPERATIONS}
    assert not missing, f"explain these in docs/operations.md: {sorted(missing)}"


def test_the_examples_set_what_is_read() -> None:
    stated = set(re.findall(r"^#? ?([A-Z_]+)=", (TOP / "deploy" / "weld-register.env").read_text(), re.MULTILINE))
    assert stated
    assert stated <= READ
    compose = (TOP / "deploy" / "compose.yaml").read_text()
    web = compose.split("  web:")[1]
    assert set(re.findall(r"^      ([A-Z_]+): ", web, re.MULTILINE)) <= READ


def test_the_image_holds_every_package_of_the_register() -> None:
    copied = set(re.findall(r"^COPY (\w+) \1$", (TOP / "deploy" / "Dockerfile").read_text(), re.MULTILINE))
    assert copied == {"codes", "register", "wps", "qualifications", "joints", "templates"}


@pytest.mark.parametrize("paper", ["docs/operations.md", "SECURITY.md", "CHANGELOG.md", "README.md"])
def test_every_command_that_is_named_is_there(paper: str) -> None:
    named = set(re.findall(r"manage\.py (\w+)", (TOP / paper).read_text(encoding="utf-8")))
    assert named
    assert named <= set(get_commands())


def test_every_file_that_is_named_is_there() -> None:
    named = re.findall(r"`((?:deploy|docs|tests)/[\w./-]+)`", OPERATIONS)
    assert "deploy/nginx.conf" in named
    assert [name for name in named if not (TOP / name).exists()] == []


def test_every_package_has_its_licence_listed() -> None:
    files = (TOP / "requirements.txt", TOP / "requirements-audit.txt")
    pins = [pin for file in files for pin in re.findall(r"^([a-z0-9-]+)==", file.read_text(), re.MULTILINE)]
    listed = (TOP / "docs" / "licences.md").read_text(encoding="utf-8").lower()
    assert [name for name in pins if not re.search(rf"\b{name}\b", listed)] == []
    assert "Apache License" in (TOP / "LICENSE").read_text()


def test_the_version_has_its_changes() -> None:
    version = (TOP / "VERSION").read_text().strip()
    assert re.search(rf"^## {re.escape(version)}\b", (TOP / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
