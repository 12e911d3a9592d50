"""Addresses of the qualifications app."""

from django.urls import path

from qualifications.lending.views import Lend, LoanEnd
from qualifications.views import (
    acts,
    calendar,
    certificates,
    confirm_many,
    due,
    log,
    log_files,
    papers,
    people,
    scans,
    timeline,
)

app_name = "qualifications"
urlpatterns = [
    path("", people.PersonList.as_view(), name="person_list"),
    path("new/", people.PersonNew.as_view(), name="person_new"),
    path("due/", due.Due.as_view(), name="due"),
    path("due/sheet/", papers.DueSheet.as_view(), name="due_sheet"),
    path("timeline/", timeline.Timeline.as_view(), name="timeline"),
    path("calendar/", calendar.Calendar.as_view(), name="calendar"),
    path("calendar/<int:pk>/revoke/", calendar.CalendarRevoke.as_view(), name="calendar_revoke"),
    path("calendar/feed/<str:token>.ics", calendar.calendar_feed, name="calendar_feed"),
    path("confirm/", confirm_many.ConfirmMany.as_view(), name="confirm_many"),
    path("log/", log.WeldLog.as_view(), name="weld_log"),
    path("log/new/", log.WeldLogNew.as_view(), name="weld_log_new"),
    path("log/file/", log_files.LogFileUpload.as_view(), name="weld_log_upload"),
    path("log/files/<int:pk>/", log_files.LogFilePreview.as_view(), name="weld_log_file"),
    path("log/files/<int:pk>/take-in/", log_files.LogFileConfirm.as_view(), name="weld_log_take_in"),
    path("log/template/", log_files.template, name="weld_log_template"),
    path("log/<int:pk>/strike-out/", log.WeldLogStrike.as_view(), name="weld_log_strike"),
    path("<int:pk>/", people.PersonPage.as_view(), name="person"),
    path("<int:person>/lend/", Lend.as_view(), name="lend"),
    path("loans/<int:pk>/last-day/", LoanEnd.as_view(), name="loan_end"),
    path("<int:pk>/card/", papers.pocket_card, name="pocket_card"),
    path("<int:pk>/change/", people.PersonEdit.as_view(), name="person_edit"),
    path("<int:person>/certificates/new/", certificates.CertificateNew.as_view(), name="certificate_new"),
    path("certificates/<int:pk>/", certificates.CertificatePage.as_view(), name="certificate"),
    path("certificates/<int:pk>/sheet/", papers.certificate_sheet, name="certificate_sheet"),
    path("certificates/<int:pk>/scan/", scans.CertificateScan.as_view(), name="certificate_scan"),
    path("events/<int:pk>/scan/", scans.EventScan.as_view(), name="event_scan"),
    path("scans/<int:pk>/withdraw/", scans.ScanWithdraw.as_view(), name="scan_withdraw"),
    path("certificates/<int:pk>/change/", certificates.CertificateEdit.as_view(), name="certificate_edit"),
    path("certificates/<int:pk>/confirm/", acts.Confirm.as_view(), name="confirm"),
    path("certificates/<int:pk>/prolong/", acts.Prolong.as_view(), name="prolong"),
    path("certificates/<int:pk>/renew/", acts.Renew.as_view(), name="renew"),
    path("certificates/<int:pk>/revoke/", acts.Revoke.as_view(), name="revoke"),
    path("events/<int:pk>/correct/", acts.Correct.as_view(), name="correct"),
]
