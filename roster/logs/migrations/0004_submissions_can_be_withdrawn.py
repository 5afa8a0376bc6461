from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("logs", "0003_public_ids")]

    operations = [
        migrations.AlterField(
            model_name="submission",
            name="verdict",
            field=models.CharField(
                choices=[
                    ("accepted", "accepted"),
                    ("replaced", "replaced by a later revision"),
                    ("withdrawn", "withdrawn: its load was undone"),
                ],
                default="accepted",
                max_length=9,
            ),
        ),
    ]
