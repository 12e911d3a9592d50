"""Addresses of the joints app."""

from django.urls import include, path

from joints.views import (
    ask,
    assemblies,
    home,
    import_columns,
    imports,
    jobs,
    joints,
    model_answers,
    uncovered,
    workstations,
)

app_name = "joints"
urlpatterns = [
    path("", home.Home.as_view(), name="home"),
    path("ask/", ask.Ask.as_view(), name="ask"),
    path("uncovered/", uncovered.UncoveredByLapse.as_view(), name="uncovered_by_lapse"),
    path("jobs/", jobs.JobList.as_view(), name="job_list"),
    path("jobs/new/", jobs.JobNew.as_view(), name="job_new"),
    path("jobs/template/", imports.import_template, name="import_template"),
    path("jobs/<int:pk>/", jobs.JobPage.as_view(), name="job"),
    path("jobs/<int:pk>/change/", jobs.JobEdit.as_view(), name="job_edit"),
    path("jobs/<int:pk>/coverage/", jobs.JobCoverage.as_view(), name="job_coverage"),
    path("jobs/<int:pk>/counts/", home.JobCounts.as_view(), name="job_counts"),
    path("jobs/<int:pk>/import/", imports.ImportUpload.as_view(), name="import_upload"),
    path("jobs/<int:job>/assemblies/new/", assemblies.AssemblyNew.as_view(), name="assembly_new"),
    path("imports/<int:pk>/", imports.ImportPreview.as_view(), name="import_preview"),
    path("imports/<int:pk>/columns/", import_columns.ImportColumns.as_view(), name="import_columns"),
    path("imports/<int:pk>/answers.ifc", model_answers.model_answers, name="import_answers"),
    path("imports/<int:pk>/confirm/", imports.ImportConfirm.as_view(), name="import_confirm"),
    path("assemblies/<int:pk>/", assemblies.AssemblyPage.as_view(), name="assembly"),
    path("assemblies/<int:pk>/change/", assemblies.AssemblyEdit.as_view(), name="assembly_edit"),
    path("assemblies/<int:assembly>/joints/new/", joints.JointNew.as_view(), name="joint_new"),
    path("", include("joints.weld_metal.urls")),
    path("", include("joints.weld_values.urls")),
    path("", include("joints.weld_data.urls")),
    path("", include("joints.turning.urls")),
    path("", include("joints.planning.urls")),
    path("", include("joints.papers.urls")),
    path("joints/", joints.JointList.as_view(), name="joint_list"),
    path("joints/<int:pk>/", joints.JointPage.as_view(), name="joint"),
    path("joints/<int:pk>/change/", joints.JointEdit.as_view(), name="joint_edit"),
    path("joints/<int:pk>/remove/", joints.JointRemove.as_view(), name="joint_remove"),
    path("workstations/", workstations.WorkstationList.as_view(), name="workstation_list"),
    path("workstations/new/", workstations.WorkstationNew.as_view(), name="workstation_new"),
    path("workstations/<int:pk>/", workstations.WorkstationPage.as_view(), name="workstation"),
    path("workstations/<int:pk>/change/", workstations.WorkstationEdit.as_view(), name="workstation_edit"),
]
