"""What is asked before an audit pack is made."""

from django import forms
from django.utils.translation import gettext_lazy as _

from joints.papers.pack import FORMS
from register.base.pdf import PAPERS
from register.papers.printing import UNITS


class PackForm(forms.Form):
    """Its form, paper and units."""

    form = forms.ChoiceField(label=_("As"), choices=list(FORMS.items()), initial="pdf")
    paper = forms.ChoiceField(
        label=_("Paper"), choices=[(token, name) for token, (name, _) in PAPERS.items()], initial="a4"
    )
    units = forms.ChoiceField(label=_("Units"), choices=list(UNITS.items()), initial="si")
