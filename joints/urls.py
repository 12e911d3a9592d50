"""Addresses of the joints app."""

from django.urls import URLPattern

app_name = "joints"
urlpatterns: list[URLPattern] = []
