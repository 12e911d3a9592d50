"""Addresses of the wps app."""

from django.urls import include, path

from wps import record_paper, sheet_all, sheet_views, views
from wps.releases.views import Release, TakeBack

app_name = "wps"
urlpatterns = [
    path("", views.ProcedureList.as_view(), name="procedure_list"),
    path("new/", views.ProcedureNew.as_view(), name="procedure_new"),
    path("<int:pk>/", views.ProcedurePage.as_view(), name="procedure"),
    path("<int:pk>/release/", Release.as_view(), name="release"),
    path("releases/<int:pk>/take-back/", TakeBack.as_view(), name="release_take_back"),
    path("<int:pk>/next/", views.RevisionNew.as_view(), name="revision_new"),
    path("revisions/<int:pk>/", views.RevisionPage.as_view(), name="revision"),
    path("revisions/<int:pk>/write/", views.RevisionEdit.as_view(), name="revision_edit"),
    path("revisions/<int:pk>/live/", views.RevisionLive.as_view(), name="revision_live"),
    path("revisions/<int:pk>/sketch/", views.RevisionSketch.as_view(), name="revision_sketch"),
    path("revisions/<int:pk>/check/", views.RevisionCheck.as_view(), name="revision_check"),
    path("revisions/<int:pk>/approve/", views.RevisionApprove.as_view(), name="revision_approve"),
    path("revisions/<int:pk>/withdraw/", views.RevisionWithdraw.as_view(), name="revision_withdraw"),
    path("revisions/<int:pk>/sheet/", sheet_views.revision_sheet, name="revision_sheet"),
    path("sheets/all/", sheet_all.AllSheets.as_view(), name="all_sheets"),
    path("sheet/<str:code>/", sheet_views.sheet_status, name="sheet_status"),
    path("materials/", include("wps.materials.urls")),
    path("records/", views.RecordList.as_view(), name="record_list"),
    path("records/new/", views.RecordNew.as_view(), name="record_new"),
    path("records/<int:pk>/", views.RecordPage.as_view(), name="record"),
    path("records/<int:pk>/sheet/", record_paper.record_sheet, name="record_sheet"),
    path("records/<int:pk>/scan/", views.RecordScan.as_view(), name="record_scan"),
    path("records/scans/<int:pk>/withdraw/", views.RecordScanWithdraw.as_view(), name="record_scan_withdraw"),
    path("records/<int:pk>/change/", views.RecordEdit.as_view(), name="record_edit"),
]
