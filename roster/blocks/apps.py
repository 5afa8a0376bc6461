from django.apps import AppConfig


class BlocksConfig(AppConfig):
    name = "roster.blocks"
    default_auto_field = "django.db.models.BigAutoField"
