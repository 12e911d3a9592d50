"""Addresses of the pages about what the register holds of the codes."""

from django.urls import path

from register.held import clause_views, grade_views, views

app_name = "held"
urlpatterns = [
    path("", views.CodesPage.as_view(), name="codes"),
    path("clauses/", clause_views.ClausesPage.as_view(), name="clauses"),
    path("clauses/check/", clause_views.check, name="check"),
    path("grades/", grade_views.GradesPage.as_view(), name="grades"),
    path("grades/new/", grade_views.GradeNew.as_view(), name="grade_new"),
    path("grades/<int:pk>/withdraw/", grade_views.GradeWithdraw.as_view(), name="grade_withdraw"),
    path("readings/", views.ReadingsPage.as_view(), name="readings"),
    path("readings/<str:key>/", views.ReadingPage.as_view(), name="reading"),
    path("tables/<slug:package>/", views.TablesPage.as_view(), name="tables"),
]
