from django.apps import AppConfig


class CheckInsConfig(AppConfig):
    name = "coaching.check_ins"
    label = "check_ins"
