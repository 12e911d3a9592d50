"""Version 1 of the API. Within it names and meanings stay; fields and calls are only added."""

from joints.api.coverage import router as coverage
from joints.api.jobs import router as jobs
from joints.api.sending import router as sending
from qualifications.api.due import router as due
from qualifications.api.log import router as log
from qualifications.api.people import router as people
from register.api.service import service
from wps.api.procedures import router as procedures
from wps.api.records import router as records
from wps.api.sheets import router as sheets

WORDS = """What the register knows, for other systems. Every call needs a token with one scope, sent as
Authorization: Bearer. Figures are exact decimals as text, days are YYYY-MM-DD, sizes are in mm. Answers to joints are
covered, outside or not stated, with the clause, how sure the register is of it (mark), and the margin. What is read
carries an ETag; refusals are application/problem+json. Nothing here approves, signs or confirms: that takes a person.
The register supports the responsible welding coordinator and never replaces the text of the standard."""

api = service("1", " ".join(WORDS.split()))
for router in (records, procedures, sheets, people, due, log, jobs, coverage, sending):
    api.add_router("", router)
