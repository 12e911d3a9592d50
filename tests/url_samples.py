"""For every address with arguments: what to put into it when the access test asks it.

An app adds its own beside its tests, in `tests/<app>/url_samples.py`: a dict SAMPLES from the full name
("wps:procedure") to a function that makes the thing and returns the arguments. It runs inside the test's
transaction; nothing is left behind.

    def _procedure() -> dict[str, object]:
        return {"pk": make_procedure().pk}

    SAMPLES = {"wps:procedure": _procedure}

The same module may hold HARMLESS_POSTS, from the full name of a view that takes POST but saves nothing (a
question about a joint that is not on file) to the reason in words.
"""

import importlib
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

APPS = ("register", "wps", "qualifications", "joints")

Sample = Callable[[], dict[str, object]]


def samples() -> dict[str, Sample]:
    """All samples of all apps. Raises ValueError if two apps give one for the same name."""
    found: dict[str, Sample] = {}
    for module in _modules():
        own = module.SAMPLES
        if twice := found.keys() & own.keys():
            raise ValueError(f"{module.__name__} gives a sample a second time for {', '.join(sorted(twice))}")
        found |= own
    return found


def harmless_posts() -> dict[str, str]:
    """The views whose POST saves nothing but the asker's own session, each with the reason."""
    found = {"logout": "ends one's own session"}
    for module in _modules():
        found |= getattr(module, "HARMLESS_POSTS", {})
    return found


def _modules() -> Iterator[ModuleType]:
    for app in APPS:
        if (Path(__file__).parent / app / "url_samples.py").exists():
            yield importlib.import_module(f"tests.{app}.url_samples")
