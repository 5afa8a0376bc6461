from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme


def way_back(request: HttpRequest) -> str:
    """The page of this desk that a form was sent from; the Morning list if it names none."""
    page = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(page, allowed_hosts=None) and page.startswith("/")
    return page if is_ours else reverse("morning")
