from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_safe

from coaching.operation.health import CHECKS, Readiness
from coaching.operation.metrics import may_read_metrics

_READINESS = Readiness(CHECKS)


@require_safe
def healthz(request: HttpRequest) -> HttpResponse:
    """The process answers; it needs nothing else for that."""
    return HttpResponse("ok\n", content_type="text/plain; charset=utf-8")


@require_safe
def readyz(request: HttpRequest) -> HttpResponse:
    held = _READINESS.held()
    told = {name: "holds" if holds else "fails" for name, holds in held.items()}
    return JsonResponse({"checks": told}, status=200 if all(held.values()) else 503)


@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    if not may_read_metrics(request):
        raise Http404
    # Without METRICS it is never loaded.
    from django_prometheus.exports import ExportToDjangoView

    return ExportToDjangoView(request)
