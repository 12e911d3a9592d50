"""The address that gives scans out; attaching and withdrawing belong to the apps."""

from django.urls import path

from register.evidence import views

app_name = "evidence"
urlpatterns = [path("<int:pk>/", views.evidence_file, name="file")]
