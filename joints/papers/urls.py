"""Addresses of the papers of jobs and assemblies."""

from django.urls import path

from joints.papers import views
from joints.papers.cell import cell_sheet
from register.papers.made import made_file

urlpatterns = [
    path("assemblies/<int:pk>/coverage-report/", views.coverage_report, name="coverage_report"),
    path("assemblies/<int:pk>/stations/<int:station>/sheets/<int:revision>/", cell_sheet, name="cell_sheet"),
    path("assemblies/<int:pk>/weld-map/", views.map_of_welds, name="weld_map"),
    path("jobs/<int:pk>/audit-pack/", views.AuditPack.as_view(), name="audit_pack"),
    path("made/<int:pk>/<str:name>", made_file, name="made_file"),
]
