"""Addresses of accounts."""

from django.urls import path

from register.users import views

app_name = "users"
urlpatterns = [
    path("", views.AccountList.as_view(), name="list"),
    path("new/", views.AccountNew.as_view(), name="new"),
    path("<int:pk>/", views.AccountChange.as_view(), name="change"),
    path("<int:pk>/second-factor/", views.AccountFactor.as_view(), name="factor"),
    path("<int:pk>/password/", views.AccountPassword.as_view(), name="password"),
]
