"""python -m joints.bounded BOUNDS LANGUAGE MODULE FILE: run a module of ours on a file, within bounds for good.

BOUNDS are a JSON object: memory [bytes], cpu_seconds, answer [bytes of any file written]. LANGUAGE is that of the
messages. See joints.sandbox.
"""

import json
import resource
import runpy
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent


def keep_within(memory: int, cpu_seconds: int, answer: int) -> None:
    """Bound this process for good."""
    limits = {
        resource.RLIMIT_AS: memory,
        resource.RLIMIT_CPU: cpu_seconds,
        resource.RLIMIT_FSIZE: answer,
        resource.RLIMIT_CORE: 0,
    }
    for kind, most in limits.items():
        resource.setrlimit(kind, (most, most))


def speak(language: str) -> None:
    """Say messages in a language, without the register's settings; in that of the code, without looking for another."""
    from django.conf import settings

    folders = [str(path) for path in (TOP / "locale", *TOP.glob("*/locale")) if path.is_dir()]
    is_ours = language.startswith("en") or not folders
    settings.configure(USE_I18N=not is_ours, LANGUAGE_CODE=language, LOCALE_PATHS=folders)
    if not is_ours:
        import django
        from django.utils import translation

        django.setup()
        translation.activate(language)


if __name__ == "__main__":
    keep_within(**json.loads(sys.argv[1]))
    speak(sys.argv[2])
    del sys.argv[:3]
    runpy.run_module(sys.argv[0], run_name="__main__")
