
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0002_small_letters_in_coach_emails'),
    ]

    operations = [
        migrations.AddField(
            model_name='studio',
            name='check_ins_from',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.CreateModel(
            name='CheckIn',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('due_on', models.DateField(blank=True, null=True)),
                ('held_on', models.DateField(blank=True, null=True)),
                ('outcome', models.TextField(blank=True)),
                ('next_on', models.DateField(blank=True, null=True)),
                ('opened_at', models.DateTimeField(auto_now_add=True)),
                ('client', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='check_ins', to='people.client')),
                ('held_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='check_ins_held', to=settings.AUTH_USER_MODEL)),
                ('promise', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='check_ins', to='people.promise')),
            ],
            options={
                'ordering': ['held_on', 'pk'],
            },
        ),
        migrations.CreateModel(
            name='CheckInAnswer',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('question', models.CharField(choices=[('well', 'What went well?'), ('in_the_way', 'What got in the way?'), ('change', 'What should change?')], max_length=10)),
                ('text', models.TextField(blank=True)),
                ('noted_at', models.DateTimeField(auto_now_add=True)),
                ('check_in', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='answers', to='people.checkin')),
                ('noted_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='answers_noted', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.AddConstraint(
            model_name='checkin',
            constraint=models.UniqueConstraint(condition=models.Q(('held_on__isnull', True)), fields=('client',), name='one_check_in_to_come_of_a_client'),
        ),
        migrations.AddConstraint(
            model_name='checkin',
            constraint=models.UniqueConstraint(fields=('client', 'held_on'), name='one_check_in_of_a_client_on_a_day'),
        ),
        migrations.AddConstraint(
            model_name='checkin',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('due_on__isnull', True), ('held_on__isnull', True)), models.Q(('due_on__isnull', False), ('held_on__isnull', False)), _connector='OR'), name='check_in_keeps_its_due_day_once_held'),
        ),
        migrations.AddConstraint(
            model_name='checkin',
            constraint=models.CheckConstraint(condition=models.Q(('held_on__isnull', False), models.Q(('outcome', ''), ('promise', None), ('next_on', None)), _connector='OR'), name='check_in_to_come_has_no_outcome'),
        ),
        migrations.AddConstraint(
            model_name='checkin',
            constraint=models.CheckConstraint(condition=models.Q(('next_on__isnull', True), ('next_on__gt', models.F('held_on')), _connector='OR'), name='next_check_in_comes_after_this_one'),
        ),
    ]
