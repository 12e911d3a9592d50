"""Many lasting objects are made without the garbage collector, which is then as it was before."""

import gc
from collections.abc import Iterator

import pytest

from register.memory import many_lasting_objects


@pytest.fixture(autouse=True)
def as_before() -> Iterator[None]:
    assert gc.isenabled()
    yield
    gc.enable()
    gc.unfreeze()


def test_the_collector_rests_and_leaves_them_alone_afterwards() -> None:
    before = gc.get_freeze_count()
    with many_lasting_objects():
        assert not gc.isenabled()
        kept = [[n] for n in range(1000)]
    assert gc.isenabled()
    assert gc.get_freeze_count() >= before + len(kept)


def test_few_objects_are_left_to_it() -> None:
    before = gc.get_freeze_count()
    with many_lasting_objects(really=False):
        assert gc.isenabled()
    assert gc.get_freeze_count() == before


def test_it_works_again_after_a_failure_and_stays_off_where_it_was_off() -> None:
    with pytest.raises(RuntimeError), many_lasting_objects():
        raise RuntimeError
    assert gc.isenabled()
    gc.disable()
    with many_lasting_objects():
        pass
    assert not gc.isenabled()
