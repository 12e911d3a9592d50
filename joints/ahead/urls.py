"""The address of the weeks ahead of a job, inside those of the joints app."""

from django.urls import path

from joints.ahead import views

urlpatterns = [path("jobs/<int:pk>/ahead/", views.JobAhead.as_view(), name="job_ahead")]
