"""Addresses of material certificates, inside those of the wps app."""

from django.urls import path

from wps.materials import views

urlpatterns = [
    path("", views.MaterialList.as_view(), name="material_list"),
    path("new/", views.MaterialNew.as_view(), name="material_new"),
    path("<int:pk>/", views.MaterialPage.as_view(), name="material"),
    path("<int:pk>/change/", views.MaterialEdit.as_view(), name="material_edit"),
    path("<int:pk>/scan/", views.MaterialScan.as_view(), name="material_scan"),
    path("scans/<int:pk>/withdraw/", views.MaterialScanWithdraw.as_view(), name="material_scan_withdraw"),
]
