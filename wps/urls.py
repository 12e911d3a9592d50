"""Addresses of the wps app."""

from django.urls import URLPattern

app_name = "wps"
urlpatterns: list[URLPattern] = []
