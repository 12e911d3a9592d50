"""Addresses of the audit trail."""

from django.urls import path

from register.trail import pages

app_name = "trail"
urlpatterns = [
    path("", pages.TrailPage.as_view(), name="list"),
    path("verify/", pages.VerifyPage.as_view(), name="verify"),
]
