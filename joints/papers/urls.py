"""Addresses of the papers of jobs and assemblies."""

from django.urls import path

from joints.papers import views

urlpatterns = [
    path("assemblies/<int:pk>/coverage-report/", views.coverage_report, name="coverage_report"),
    path("assemblies/<int:pk>/weld-map/", views.map_of_welds, name="weld_map"),
]
