"""The page on which something is entered or changed, safe against two people saving at once."""

from typing import Any, ClassVar

from django.contrib import messages
from django.db import models, transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.translation import gettext_lazy as _
from django.views.generic.base import TemplateResponseMixin
from django.views.generic.edit import ModelFormMixin, ProcessFormView

from register.base import forms
from register.base.pages import Page
from register.plants.reach import current
from register.plants.rows import InPlant, own


class FormPage(Page, TemplateResponseMixin, ModelFormMixin, ProcessFormView):
    """Enter a new one, or change the one named in the address.

    Two people who change the same thing do not overwrite each other: the second is told and sees both versions.
    """

    template_name = "generic/form.html"
    object: models.Model | None = None
    save_label = _("Save")
    saved_message = _("Saved: {0}.")
    cancel_url = ""
    named_before = ""
    plan: ClassVar[tuple[tuple[str, tuple[str, ...]], ...]] = ()

    def find_object(self) -> models.Model | None:
        """The thing to change, or None for a new one."""
        return self.get_object() if {"pk", "slug"} & set(self.kwargs) else None

    def _to_change(self) -> models.Model | None:
        """The same. Raises PermissionDenied for what is only lent or released here, before anything is entered."""
        found = self.find_object()
        return None if found is None else own(found)

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.object = self._to_change()
        if self.object is None and current().several and getattr(self.model, "new_plant", None) is InPlant.new_plant:
            # Before anything is entered: raises PlantNotChosen, answered with the choice.
            _ = current().home
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        with transaction.atomic():
            self.object = self._to_change()
            # Before the form writes what was typed into it: the heading names what is on file.
            self.named_before = self.get_page_title()
            if forms.PUT_BACK in request.POST:
                form = self.get_form()
                form.is_valid()
                return self.form_invalid(form)
            return super().post(request, *args, **kwargs)

    def get_form_kwargs(self) -> dict[str, Any]:
        kwargs = super().get_form_kwargs()
        # Before the form is made: rows of runs are read from it right then.
        return kwargs | ({"data": forms.legible(kwargs["data"])} if "data" in kwargs else {})

    def get_form(self, form_class: Any = None) -> Any:
        return forms.prepared(super().get_form(form_class))

    def form_valid(self, form: Any) -> HttpResponse:
        current = self._locked()
        if current is not None and forms.version_of(current) != self.request.POST.get(forms.SEEN, ""):
            found = forms.clash(form, current)
            context = self.get_context_data(form=form, clash=found, seen_version=forms.version_of(current))
            return self.render_to_response(context, status=409)
        self.save(form)
        messages.success(self.request, self.saved_message.format(self.object))
        return HttpResponseRedirect(self.get_success_url())

    def save(self, form: Any) -> None:
        """Save; a page that does more with the form (an author, an audit entry) does it here."""
        self.object = form.save()

    def form_invalid(self, form: Any) -> HttpResponse:
        seen = self.request.POST.get(forms.SEEN, "")
        return self.render_to_response(self.get_context_data(form=form, seen_version=seen), status=422)

    def get_cancel_url(self) -> str:
        """Where "leave without saving" goes."""
        return self.cancel_url or (self.object.get_absolute_url() if hasattr(self.object, "get_absolute_url") else "")

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        kwargs.setdefault("seen_version", forms.version_of(self.object))
        if self.named_before:
            kwargs.setdefault("page_title", self.named_before)
        context = super().get_context_data(**kwargs)
        form = context["form"]
        context.update(
            save_label=self.save_label,
            cancel_url=self.get_cancel_url(),
            multipart=form.is_multipart(),
            sections=forms.sections(form, self.plan) if self.plan else None,
            put_back=forms.PUT_BACK in self.request.POST,
        )
        return context

    def _locked(self) -> models.Model | None:
        """The row as it is on file now, held until the answer is given."""
        if self.object is None or self.object.pk is None:
            return None
        return type(self.object)._default_manager.select_for_update().get(pk=self.object.pk)
