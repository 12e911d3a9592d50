"""The address of the test plan of a job, inside those of the joints app."""

from django.urls import path

from joints.planning import views

urlpatterns = [path("jobs/<int:pk>/tests/", views.JobTests.as_view(), name="planning")]
