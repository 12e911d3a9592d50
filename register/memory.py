"""The garbage collector kept away while many lasting objects are made, which it would walk through again and again."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without_looking_for_garbage() -> Iterator[None]:
    """Make very many objects that stay, without their being walked through again and again meanwhile.

    Afterwards the collector works on as before. For what makes no circles of objects: nothing of such is freed within.
    """
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


@contextmanager
def many_lasting_objects(really: bool = True) -> Iterator[None]:
    """Make what is kept for the life of the process without being searched for garbage, now and later.

    `really`: False makes it do nothing. Counting of references goes on: what is dropped later is still freed, unless
    it refers to itself in a circle.
    """
    if not really or not gc.isenabled():
        yield
        return
    with without_looking_for_garbage():
        yield
        gc.freeze()
