"""Addresses of the calculations."""

from django.urls import path

from register.calculations import views

app_name = "calc"
urlpatterns = [
    path("", views.CalculationsPage.as_view(), name="calculations"),
    path("<slug:family>/", views.FamilyPage.as_view(), name="family"),
    path("<slug:family>/sheet/", views.sheet, name="sheet"),
]
