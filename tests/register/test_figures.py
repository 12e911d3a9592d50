"""Figures as people type them. An inch is 25.4 mm exactly; °C from t/°F = 1.8 t/°C + 32; ksi from the pound-force
(NIST SP 811, Appendix B.8 and B.9).
"""

from decimal import Decimal as D

import pytest
from django import forms

from register.base.figures import Figure, WholeNumber
from register.base.forms import DateField, prepared
from register.base.forms import said as in_words
from register.templatetags.register_base import takes_us


@pytest.mark.parametrize(
    ("typed", "unit", "kept"),
    [
        ("1.5", "mm", "1.5"),
        ("1,5", "mm", "1.5"),
        (" 1,5 ", "mm", "1.5"),
        ("12 mm", "mm", "12"),
        ("12mm", "mm", "12"),
        ("12\u00a0mm", "mm", "12"),
        ("3/8 in", "mm", "9.525"),
        ('1-1/2"', "mm", "38.1"),
        ("1½ in", "mm", "38.1"),
        ("1 1/2 in", "mm", "38.1"),
        ("3/8\u2033", "mm", "9.525"),
        ("3/8\u201d", "mm", "9.525"),
        ("225 °F", "°C", "107.222"),
        ("0,500", "mm", "0.5"),
        ("1,50", "mm", "1.5"),
        ("1,5000 mm", "mm", "1.5"),
        ("1500,5", "mm", "1500.5"),
        ("5/16 in", "mm", "7.938"),
        ("\u22125", "°C", "-5"),
        ("\u2013 5", "°C", None),
        ("-20 °C", "°C", "-20"),
        ("14 °F", "°C", "-10"),
        ("50 ksi", "MPa", "344.738"),
        ("", "mm", ""),
        ("  ", "mm", ""),
    ],
)
def test_what_is_typed_is_read_as_it_is_meant(typed: str, unit: str, kept: str | None) -> None:
    field = Figure(unit=unit, max_digits=9, decimal_places=3, required=False)
    if kept is None:
        with pytest.raises(forms.ValidationError, match="is not a number"):
            field.clean(typed)
    else:
        assert field.clean(typed) == (D(kept) if kept else None)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("thick", '"thick" is not a number; write for example 12.5 or "3/8 in".'),
        ("3/4", '"3/4" is a fraction; write its unit, for example "3/8 in".'),
        ("12 ft", '"ft" is not a unit of this field; use mm or in.'),
        ("1.234,5", "is not a number"),
        ("1,234.5", "is not a number"),
        ("1,500", '"1,500" can be read in two ways; write 1.500 or 1500.'),
        ("1,500 mm", "can be read in two ways; write 1.500 or 1500."),
        ("1,500 in", "can be read in two ways"),
        ("225,000", "can be read in two ways; write 225.000 or 225000."),
        ("1-1/2", "is a fraction; write its unit"),
        ("1 1/2", "is a fraction; write its unit"),
        ("٣", "is not a number"),
        ("NaN", "no usable figure"),
        ("1e999999", "no usable figure"),
        ("1e999999 in", "is not a usable number"),
        ("9" * 400, "no usable figure"),
        ("1.23456", "no more than 3 decimal places"),
    ],
)
def test_what_cannot_be_read_is_said_with_the_remedy(typed: str, said: str) -> None:
    with pytest.raises(forms.ValidationError) as refused:
        Figure(unit="mm", max_digits=9, decimal_places=3).clean(typed)
    assert said in refused.value.messages[0]


def test_a_whole_number_is_not_cut() -> None:
    field = WholeNumber(max_value=20)
    assert (field.clean("2"), field.clean(" 2,0 ")) == (2, 2)
    for typed, said in (
        ("1,5", "1.5 is no whole number"),
        ("21", "less than or equal to 20"),
        ("x", "a number; write for example 2"),
    ):
        with pytest.raises(forms.ValidationError, match=rf"{said}(\.|;| to|$)"):
            field.clean(typed)


class Sizes(forms.Form):
    """As a model makes it: boxes of the browser, the unit in the label."""

    leg = forms.DecimalField(label="leg [mm]", max_digits=9, decimal_places=3, min_value=1, required=False)
    pieces = forms.IntegerField(min_value=0)


def test_no_number_box_is_left_and_what_was_said_of_it_stays() -> None:
    class Own(Sizes):
        def __init__(self, *args: object) -> None:
            super().__init__(*args)
            self.fields["leg"].error_messages["min_value"] = "More than 0."

    form = prepared(Own({"leg": "1/8 in", "pieces": ""}))
    assert 'type="number"' not in form.as_p() and "step=" not in form.as_p()
    assert form.errors == {"pieces": ["Missing; enter it."]} and form.cleaned_data["leg"] == D("3.175")
    assert prepared(Own({"leg": "0", "pieces": "1"})).errors == {"leg": ["More than 0."]}


def test_a_form_knows_whether_it_asks_for_what_has_a_us_unit() -> None:
    assert takes_us(prepared(Sizes())) and not takes_us(forms.Form())


@pytest.mark.parametrize(
    ("typed", "said"), [("0206-03-01", "The year 0206 is a slip"), ("2206-03-01", "2206 is a slip")]
)
def test_a_year_that_is_a_slip_is_refused(typed: str, said: str) -> None:
    with pytest.raises(forms.ValidationError, match=said):
        DateField().clean(typed)
    assert DateField().clean("2026-03-01").year == 2026


def test_a_clash_compares_figures_not_their_noughts() -> None:
    """What is on file as 19.000 and typed as 19 is no difference."""
    assert in_words(forms.DecimalField(), D("19.000")) == in_words(forms.DecimalField(), D("19")) == "19"


@pytest.mark.parametrize("typed", ["1e-999999999", "0.1e-400", "1" * 41 + "e-41", "1" * 200_000 + "\n1"])
@pytest.mark.parametrize("field", [Figure(unit="mm"), Figure(unit="mm", max_digits=9, decimal_places=3), WholeNumber()])
def test_a_figure_of_more_places_than_can_be_measured_is_refused_in_few_words(field: forms.Field, typed: str) -> None:
    """Written out, the first is a text of a thousand million noughts."""
    with pytest.raises(forms.ValidationError) as refused:
        field.clean(typed)
    (said,) = refused.value.messages
    assert len(said) < 200
