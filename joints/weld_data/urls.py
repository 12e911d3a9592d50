"""Addresses of the weld data, below those of the joints app."""

from django.urls import path

from joints.weld_data.views import WeldData

urlpatterns = [path("jobs/<int:pk>/weld-data/", WeldData.as_view(), name="weld_data")]
