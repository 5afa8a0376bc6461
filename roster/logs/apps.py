from django.apps import AppConfig


class LogsConfig(AppConfig):
    name = "roster.logs"
    default_auto_field = "django.db.models.BigAutoField"
