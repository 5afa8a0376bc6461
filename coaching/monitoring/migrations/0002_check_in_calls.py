from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('monitoring', '0001_initial'),
    ]

    operations = [
        migrations.AddField(
            model_name='clientstate',
            name='check_in_due_on',
            field=models.DateField(null=True),
        ),
        migrations.AlterField(
            model_name='flag',
            name='kind',
            field=models.CharField(choices=[('pain', 'pain'), ('turnout', 'turnout'), ('stall', 'stall'), ('step_not_taken', 'step not taken'), ('skips_it', 'skips it'), ('cut_short', 'cut short'), ('no_step', 'no step'), ('plan_runs_out', 'plan runs out'), ('too_easy', 'too easy'), ('ready', 'ready'), ('check_in_due', 'check-in due')], max_length=20),
        ),
        migrations.AlterField(
            model_name='flagevent',
            name='kind',
            field=models.CharField(choices=[('pain', 'pain'), ('turnout', 'turnout'), ('stall', 'stall'), ('step_not_taken', 'step not taken'), ('skips_it', 'skips it'), ('cut_short', 'cut short'), ('no_step', 'no step'), ('plan_runs_out', 'plan runs out'), ('too_easy', 'too easy'), ('ready', 'ready'), ('check_in_due', 'check-in due')], max_length=20),
        ),
    ]
