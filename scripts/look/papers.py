"""Every paper of the running demonstration as pictures of its sides, for lay_out.py.

    .venv/bin/python scripts/look/papers.py [--base URL] [--user gunnar] [--units si|us] [--part 1/2]

SI units come on A4, US units on Letter. Writes var/look/papers.txt and var/look/pictures/paper/papers-UNITS-N-SIDE.png.
Cell sheets of assemblies, calculation sheets and packs hang on what was entered: they are made from their pages.
"""

import argparse
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import django

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
os.environ.setdefault("VAR_DIR", str(ROOT / "var" / "demo"))
django.setup()

from addresses import FOLDER, signed_in  # noqa: E402
from django.urls import reverse  # noqa: E402

from joints.models import Assembly  # noqa: E402
from qualifications.models import Certificate, Person  # noqa: E402
from wps.models import ProcedureRevision, TestRecord  # noqa: E402

PAPER = {"si": "a4", "us": "letter"}
OF_ONE = {
    "wps:record_sheet": TestRecord,
    "qualifications:certificate_sheet": Certificate,
    "qualifications:pocket_card": Person,
    "joints:coverage_report": Assembly,
    "joints:weld_map": Assembly,
}


def addresses() -> Iterator[str]:
    """Every paper that a record, a person or an assembly has, without units and size."""
    for key in ProcedureRevision.objects.order_by("pk").values_list("pk", flat=True):
        for kind in ("cell", "full"):
            yield f"{reverse('wps:revision_sheet', args=[key])}?kind={kind}"
    for name, model in OF_ONE.items():
        for key in model.objects.order_by("pk").values_list("pk", flat=True):
            yield f"{reverse(name, args=[key])}?"
    yield f"{reverse('qualifications:due_sheet')}?"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--base", default="http://127.0.0.1:8000")
    asked.add_argument("--user", default="gunnar")
    asked.add_argument("--units", default="si", choices=tuple(PAPER))
    asked.add_argument("--part", default="1/1")
    given = asked.parse_args()
    first, step = (int(number) for number in given.part.split("/"))
    target = FOLDER / "pictures" / "paper"
    target.mkdir(parents=True, exist_ok=True)
    listed = list(addresses())
    (FOLDER / "papers.txt").write_text("\n".join(listed) + "\n", encoding="utf-8")
    session = signed_in(given.base, given.user)
    for number, address in list(enumerate(listed))[first - 1 :: step]:
        answer = session.get(f"{given.base}{address}&units={given.units}&paper={PAPER[given.units]}", timeout=120)
        if answer.headers.get("Content-Type") != "application/pdf":
            print(f"{answer.status_code} {address}", flush=True)
            continue
        name = str(target / f"papers-{given.units}-{number:04d}")
        subprocess.run(["pdftoppm", "-r", "80", "-png", "-", name], input=answer.content, check=True)


if __name__ == "__main__":
    main()
