"""Addresses of weld values, inside those of the joints app."""

from django.urls import path

from joints.weld_values import views

urlpatterns = [
    path("jobs/<int:pk>/weld-values/", views.WeldValues.as_view(), name="weld_values"),
    path(
        "jobs/<int:pk>/weld-values/<int:revision>/<slug:sha>/", views.WeldValuesFile.as_view(), name="weld_values_file"
    ),
]
