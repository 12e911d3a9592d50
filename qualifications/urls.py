"""Addresses of the qualifications app."""

from django.urls import URLPattern

app_name = "qualifications"
urlpatterns: list[URLPattern] = []
