from django.db import migrations
from django.db.models.functions import Lower


def write_small(apps, schema_editor):
    apps.get_model("people", "Coach").objects.update(email=Lower("email"))


class Migration(migrations.Migration):
    dependencies = [("people", "0001_initial")]

    operations = [migrations.RunPython(write_small, migrations.RunPython.noop)]
