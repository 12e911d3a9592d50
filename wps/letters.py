"""Letters of revisions: A to Z, then AA, AB and so on."""


def next_letter(letter: str) -> str:
    """The letter that follows; "A" after nothing. Raises ValueError for what is no letter.

    Example: next_letter("Z") is "AA", next_letter("AZ") is "BA".
    """
    if not all("A" <= character <= "Z" for character in letter):
        raise ValueError(f'"{letter}" is not the letter of a revision')
    kept = letter.rstrip("Z")
    turned = "A" * (len(letter) - len(kept))
    if not kept:
        return "A" + turned
    return kept[:-1] + chr(ord(kept[-1]) + 1) + turned
