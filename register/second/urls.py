"""Addresses of the second factor."""

from django.urls import path

from register.second import views

app_name = "second"
urlpatterns = [
    path("", views.OwnFactor.as_view(), name="own"),
    path("set-up/", views.SetUp.as_view(), name="set_up"),
    path("recovery-codes/", views.NewCodes.as_view(), name="new_codes"),
    path("take-away/", views.TakeAway.as_view(), name="take_away"),
    path("code/", views.SignInCode.as_view(), name="code"),
]
