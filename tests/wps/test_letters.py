"""Letters of revisions."""

import pytest

from wps.letters import next_letter


@pytest.mark.parametrize(
    ("letter", "following"),
    [("", "A"), ("A", "B"), ("Y", "Z"), ("Z", "AA"), ("AA", "AB"), ("AZ", "BA"), ("ZZ", "AAA"), ("BZZ", "CAA")],
)
def test_the_letter_that_follows(letter: str, following: str) -> None:
    assert next_letter(letter) == following


@pytest.mark.parametrize("letter", ["a", "1", "A1", "Ä"])
def test_what_is_no_letter_is_refused(letter: str) -> None:
    with pytest.raises(ValueError, match="not the letter"):
        next_letter(letter)
