"""Addresses of the choice of a plant."""

from django.urls import path

from register.plants import views

app_name = "plants"
urlpatterns = [path("choose/", views.ChoosePlant.as_view(), name="choose")]
