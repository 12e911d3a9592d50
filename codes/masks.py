"""Bit masks as sets: which bits are set, and, bit by bit at once, how many of several masks hold each."""

from collections.abc import Iterable, Iterator


def bits(mask: int) -> list[int]:
    """The indexes of the set bits. Example: bits(0b101) is [0, 2]."""
    return list(each_bit(mask))


def each_bit(mask: int) -> Iterator[int]:
    """The same one by one, the lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def any_of(masks: Iterable[int]) -> int:
    """All bits of all masks."""
    whole = 0
    for mask in masks:
        whole |= mask
    return whole


class Counts:
    """How many masks hold each bit, as a binary number in slices: slice k holds the bits whose count has 2**k.

    Adding a mask costs a few operations on whole masks, however many bits they have.
    """

    def __init__(self, masks: Iterable[int] = ()) -> None:
        self._slices: list[int] = []
        for mask in masks:
            self.add(mask)

    def add(self, mask: int) -> None:
        """Count one more mask."""
        for index, held in enumerate(self._slices):
            self._slices[index], mask = held ^ mask, held & mask
            if not mask:
                return
        if mask:
            self._slices.append(mask)

    def least(self, among: int) -> int:
        """Those of the bits `among` whose count is the least; 0 where there are none."""
        for held in reversed(self._slices):
            among = among & ~held or among
        return among

    def of(self, index: int) -> int:
        """The count of one bit."""
        return sum((held >> index & 1) << k for k, held in enumerate(self._slices))
