"""Addresses of the systems that may ask by the API."""

from django.urls import path

from register.systems import views

app_name = "systems"
urlpatterns = [
    path("", views.SystemList.as_view(), name="list"),
    path("new/", views.SystemNew.as_view(), name="new"),
    path("<int:pk>/", views.SystemPage.as_view(), name="system"),
    path("<int:pk>/revoke/", views.SystemRevoke.as_view(), name="revoke"),
]
