from django.apps import AppConfig
from django.contrib.admin import apps as admin_apps


class AccountsConfig(AppConfig):
    name = "coaching.accounts"
    default_auto_field = "django.db.models.BigAutoField"


class SideDoorConfig(admin_apps.AdminConfig):
    default = False
    default_site = "coaching.accounts.side_door.SideDoor"
