"""What is typed into any form: signs that nobody sees, figures that read in two ways, what is too long."""

from decimal import Decimal as D

import pytest
from django import forms
from django.http import QueryDict

from register.base.figures import Figure
from register.base.forms import legible, prepared


@pytest.mark.parametrize(
    ("typed", "remedy"), [("1,234", "write 1.234 or 1234"), (" 12,500 mm", "write 12.500 or 12500")]
)
def test_a_comma_before_three_digits_is_asked_about(typed: str, remedy: str) -> None:
    """Common practice: a thousand where figures are written in the American way, one and a bit elsewhere."""
    with pytest.raises(forms.ValidationError, match=remedy):
        Figure(unit="mm").clean(typed)
    assert [Figure(unit="mm").clean(plain) for plain in ("0,250", "1,25", "1.234")] == [
        D("0.250"),
        D("1.25"),
        D("1.234"),
    ]


@pytest.mark.parametrize(
    ("typed", "unit", "says"),
    [
        ("1 234", "mm", "has a gap in its figure"),
        ("3/4", "A", "write it with a decimal point"),
        ("3/4", "mm", "3/8 in"),
    ],
)
def test_the_remedy_fits_the_field(typed: str, unit: str, says: str) -> None:
    with pytest.raises(forms.ValidationError, match=says):
        Figure(unit=unit).clean(typed)


def test_signs_that_nobody_sees_are_left_out_but_of_passwords() -> None:
    sent = QueryDict(mutable=True)
    sent.update({"name": "A\u200bda\u202e Krol\x07", "notes": "one\r\n\ttwo", "signing_password": "p\u200b"})
    kept = legible(sent)
    assert (kept["name"], kept["notes"], kept["signing_password"]) == ("Ada Krol", "one\r\n\ttwo", "p\u200b")


def test_what_is_too_long_says_how_long_it_may_be() -> None:
    class Named(forms.Form):
        mark = forms.CharField(max_length=3)
        mail = forms.EmailField()

    assert prepared(Named({"mark": "B1-24", "mail": "here"})).errors == {
        "mark": ["At most 3 characters; this has 5."],
        "mail": ["This is not an e-mail address; write for example name@firm.example."],
    }


def test_an_empty_choice_says_what_it_means() -> None:
    class Chosen(forms.Form):
        kind = forms.ChoiceField(choices=[("", "---------"), ("a", "A")])
        other = forms.ChoiceField(choices=[("", "---------"), ("a", "A")], required=False)
        own = forms.ChoiceField(choices=[("", "as listed"), ("a", "A")], required=False)

    form = prepared(Chosen())
    assert [str(form.fields[name].choices[0][1]) for name in form.fields] == ["choose one", "not stated", "as listed"]
