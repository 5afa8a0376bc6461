from __future__ import annotations

from typing import ClassVar

from django.db import models


class SharedValue(models.Model):
    """A counted try, or another value that all processes share, where no REDIS_URL names a place for them.

    The framework's database cache reads and writes these rows by SQL of its own; the columns are as it wants them.
    """

    cache_key = models.CharField(max_length=255, primary_key=True)
    value = models.TextField()
    expires = models.DateTimeField(db_index=True)

    class Meta:
        db_table = "shared_values"
        default_permissions: ClassVar = ()

    def __str__(self) -> str:
        return self.cache_key
