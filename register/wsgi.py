"""Entry point for a web server: `gunicorn register.wsgi`."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")

application = get_wsgi_application()
