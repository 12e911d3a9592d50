"""Many lasting objects are made without the garbage collector, which is then as it was before."""

import gc
from collections.abc import Iterator

import pytest

from register.memory import many_lasting_objects, without_looking_for_garbage


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


def test_what_is_made_while_it_rests_may_still_be_swept_up_later() -> None:
    before = gc.get_freeze_count()
    with without_looking_for_garbage():
        assert not gc.isenabled()
    assert gc.isenabled()
    assert gc.get_freeze_count() == before


def test_few_objects_are_left_to_it() -> None:
    before = gc.get_freeze_count()
    with many_lasting_objects(really=False):
        assert gc.isenabled()
    assert gc.get_freeze_count() == before


def test_it_works_again_after_a_failure_and_stays_off_where_it_was_off() -> None:
    for rest in (many_lasting_objects, without_looking_for_garbage):
        with pytest.raises(RuntimeError), rest():
            raise RuntimeError
        assert gc.isenabled()
        gc.disable()
        with rest():
            pass
        assert not gc.isenabled()
        gc.enable()
