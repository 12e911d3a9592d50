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

    @property
    def slices(self) -> list[int]:
        """The slices, the highest first."""
        return self._slices[::-1]

    def least(self, among: int) -> int:
        """Those of the bits `among` whose count is the least; 0 where there are none."""
        for held in self.slices:
            among = among & ~held or among
        return among

    def of(self, index: int) -> int:
        """The count of one bit."""
        return sum((held >> index & 1) << k for k, held in enumerate(self._slices))


class Runs:
    """Bits that lie side by side and belong together, a run for each thing; the last bit of a run stands for the thing.

    All runs are asked at once, by an addition whose carries end at the last bit of each.
    """

    def __init__(self, lengths: Iterable[int]) -> None:
        """The runs in their order; each has at least one bit."""
        self.rows: list[int] = []
        """Thing -> all bits of its run."""
        at, first, longest = 0, [], 1
        for length in lengths:
            first.append(at)
            self.rows.append(((1 << length) - 1) << at)
            at, longest = at + length, max(longest, length)
        self.lasts = [rows.bit_length() - 1 for rows in self.rows]
        """Thing -> the bit that stands for it."""
        self.things = {last: index for index, last in enumerate(self.lasts)}
        self._firsts, self._ends = _of(first), _of(self.lasts)
        self._inner = ((1 << at) - 1) & ~self._ends
        self._steps = [(shift, self._far(shift)) for shift in _doubled(longest)]

    def _far(self, shift: int) -> int:
        """The bits that have another of their run so many places above."""
        return any_of(rows & (rows >> shift) for rows in self.rows)

    def any(self, mask: int) -> int:
        """The things of which the mask holds some bit. Example: runs of 2 and 3 bits, 0b01001: 0b10010."""
        inner = self._inner
        return ((mask & inner) + inner | mask) & self._ends

    def whole(self, things: int) -> int:
        """All bits of some things."""
        for shift, far in self._steps:
            things |= things >> shift & far
        return things

    def least(self, counts: Iterable[Counts]) -> int:
        """One bit of each run: that with the least first count, then the least second; the first of equals."""
        alive = self._inner | self._ends
        for held in (held for one in counts for held in one.slices):
            if held & alive:
                fewer = alive & ~held
                alive = fewer | alive & ~self.whole(self.any(fewer))
        # No run is empty, so none borrows from the next.
        return alive & ~(alive - self._firsts)


def _of(places: Iterable[int]) -> int:
    return any_of(1 << place for place in places)


def _doubled(top: int) -> Iterator[int]:
    """1, 2, 4 and so on, below a number."""
    shift = 1
    while shift < top:
        yield shift
        shift *= 2
