from django.apps import AppConfig


class LoadsConfig(AppConfig):
    name = "coaching.loads"
