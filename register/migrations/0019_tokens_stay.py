"""What a token opens stays as it was made; one that was revoked stays revoked."""

from django.db import migrations

from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate, same

TABLE = "register_systemtoken"
ONCE = "What a token opens is written once; revoke it and make another"
STAYS = "A token is revoked, never deleted"
FROZEN = ("name", "digest", "scopes", "made_by")
CHANGED = " OR ".join(f"OLD.{name} <> NEW.{name}" for name in FROZEN)


class Migration(migrations.Migration):
    dependencies = [("register", "0018_states_of_accounts")]

    operations = [
        RefuseChange(TABLE, "UPDATE", ONCE, f"{CHANGED} OR (OLD.revoked_at IS NOT NULL AND NEW.revoked_at IS NULL)"),
        RefuseChange(TABLE, "DELETE", STAYS),
        RefuseReplace(TABLE, STAYS, [same("name"), same("digest")]),
        RefuseTruncate(TABLE, STAYS),
    ]
