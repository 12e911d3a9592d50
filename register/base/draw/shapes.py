"""The three answers as three shapes that survive a grey photocopy: filled circle, barred square, open diamond."""

from register.base.draw import svg

WORDS = {"covered": "Covered", "outside": "Outside", "not stated": "Not stated"}


def outcome_text(outcome: object) -> str:
    """The word of an outcome, given as text or as an enumeration whose value is the word.

    Raises ValueError for anything but the three answers.
    """
    word = str(getattr(outcome, "value", outcome)).replace("_", " ").lower()
    if word not in WORDS:
        raise ValueError(f"an answer is covered, outside or not stated, not {outcome!r}")
    return word


def answer_shape(outcome: object, size: int = 18, beside_word: bool = False) -> str:
    """The shape of an answer. Example: answer_shape("covered") is a filled circle.

    `beside_word` hides it from screen readers: the word next to it says the same.
    """
    word = outcome_text(outcome)
    title = "" if beside_word else WORDS[word]
    return svg.drawing(size, size, title, f"shape {css_class(word)}", [_SHAPES[word]], box="0 0 18 18")


def css_class(outcome: object) -> str:
    """The class of an outcome. Example: css_class("not stated") gives "is-not-stated"."""
    return "is-" + outcome_text(outcome).replace(" ", "-")


def marker(outcome: object, x: float, y: float) -> str:
    """A small form of the shape, centred on a point of another drawing."""
    word = outcome_text(outcome)
    if word == "covered":
        return svg.element("circle", cx=x, cy=y, r=4.5, cls="mark", fill="currentColor")
    if word == "outside":
        square = svg.element("rect", x=x - 4.5, y=y - 4.5, width=9, height=9, cls="mark", fill="currentColor")
        return square + svg.element("rect", x=x - 3, y=y - 1, width=6, height=2, cls="cut", fill="#fff")
    corners = f"M{svg.pixels(x)} {svg.pixels(y - 6)}l6 6l-6 6l-6 -6z"
    return svg.element("path", d=corners, cls="mark open", fill="#fff", stroke="currentColor", stroke_width=1.5)


_SHAPES = {
    "covered": svg.element("circle", cx=9, cy=9, r=8, cls="mark", fill="currentColor")
    + svg.element("path", d="M5.2 9.3l2.7 2.7l5 -5.6", cls="cut-line", fill="none", stroke="#fff", stroke_width=2),
    "outside": svg.element("rect", x=1, y=1, width=16, height=16, cls="mark", fill="currentColor")
    + svg.element("rect", x=4, y=7.7, width=10, height=2.6, cls="cut", fill="#fff"),
    "not stated": svg.element(
        "path",
        d="M9 .8l8.2 8.2l-8.2 8.2l-8.2 -8.2z",
        cls="mark open",
        fill="none",
        stroke="currentColor",
        stroke_width=1.5,
    )
    + svg.element(
        "path",
        d="M6.9 7.4a2.1 2.1 0 1 1 3 1.9c-.7 .3 -.9 .7 -.9 1.4M9 12.3v1.2",
        cls="mark open",
        fill="none",
        stroke="currentColor",
        stroke_width=1.4,
    ),
}
