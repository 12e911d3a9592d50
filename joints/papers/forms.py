"""What is asked before an audit pack is made."""

from django import forms

from joints.papers.pack import FORMS
from register.base.pdf import PAPERS
from register.papers.printing import UNITS


class PackForm(forms.Form):
    """Its form, paper and units."""

    form = forms.ChoiceField(label="As", choices=list(FORMS.items()), initial="pdf")
    paper = forms.ChoiceField(
        label="Paper", choices=[(token, name) for token, (name, _) in PAPERS.items()], initial="a4"
    )
    units = forms.ChoiceField(label="Units", choices=list(UNITS.items()), initial="si")
