from django.apps import AppConfig


class MonitoringConfig(AppConfig):
    name = "coaching.monitoring"
    default_auto_field = "django.db.models.BigAutoField"
