"""The last day of a token stays too, the plant it was narrowed to, and how it was revoked."""

from django.db import migrations

from register.triggers import RefuseChange

TABLE = "register_systemtoken"
ONCE = "What a token opens is written once; revoke it and make another"
WIDER = "OLD.plant_id IS NOT NULL AND (NEW.plant_id IS NULL OR OLD.plant_id <> NEW.plant_id)"
REVOKED = " OR ".join(f"OLD.{name} <> NEW.{name}" for name in ("revoked_at", "revoked_because", "revoked_by"))


class Migration(migrations.Migration):
    dependencies = [("register", "0019_tokens_stay")]

    operations = [
        RefuseChange(
            TABLE,
            "UPDATE",
            ONCE,
            f"OLD.expires_on <> NEW.expires_on OR ({WIDER}) OR (OLD.revoked_at IS NOT NULL AND ({REVOKED}))",
            "rest",
        ),
    ]
