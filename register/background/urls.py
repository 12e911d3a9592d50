"""Addresses of work in the background."""

from django.urls import path

from register.background import views

app_name = "background"
urlpatterns = [
    path("", views.WorkList.as_view(), name="list"),
    path("<int:pk>/", views.WorkPage.as_view(), name="work"),
    path("<int:pk>/state/", views.WorkState.as_view(), name="state"),
    path("<int:pk>/give-up/", views.WorkGiveUp.as_view(), name="give_up"),
]
