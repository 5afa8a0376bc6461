"""Each row gets the name by which other programs know it; rows that are there get theirs now."""

import uuid

from django.db import migrations, models

BATCH = 2_000


def give_names(apps, schema_editor):
    for name in MODELS:
        model = apps.get_model("blocks", name)
        nameless = model.objects.filter(public_id__isnull=True)
        while rows := list(nameless.only("pk")[:BATCH]):
            for row in rows:
                row.public_id = uuid.uuid4()
            model.objects.bulk_update(rows, ["public_id"], batch_size=200)


MODELS = ("exercise", "block", "plannedsession")


class Migration(migrations.Migration):
    dependencies = [("blocks", "0002_blocks_of_people")]

    operations = [
        *(
            migrations.AddField(model, "public_id", models.UUIDField(editable=False, null=True))
            for model in MODELS
        ),
        migrations.RunPython(give_names, migrations.RunPython.noop),
        *(
            migrations.AlterField(
                model, "public_id", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)
            )
            for model in MODELS
        ),
    ]
