"""Addresses of geometry and turning plans, below those of the joints app."""

from django.urls import path

from joints.turning import plan_view, views

urlpatterns = [
    path("assemblies/<int:pk>/turning/", plan_view.TurningPlan.as_view(), name="turning_plan"),
    path("assemblies/<int:assembly>/geometry/", views.AssemblyGeometryEdit.as_view(), name="assembly_geometry"),
    path("joints/<int:joint>/geometry/", views.JointGeometryEdit.as_view(), name="joint_geometry"),
    path("jobs/geometry-template/", views.geometry_template, name="geometry_template"),
    path("jobs/<int:pk>/geometry/", views.GeometryUpload.as_view(), name="geometry_upload"),
]
