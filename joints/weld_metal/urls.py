"""Addresses of weld metal, inside those of the joints app."""

from django.urls import path

from joints.weld_metal import views

urlpatterns = [
    path("jobs/<int:pk>/weld-metal/", views.JobMetal.as_view(), name="job_metal"),
    path("assemblies/<int:pk>/weld-metal/", views.AssemblyMetal.as_view(), name="assembly_metal"),
]
