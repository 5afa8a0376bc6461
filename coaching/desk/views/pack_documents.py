"""A pack to take along: paper, workbook, table."""

from __future__ import annotations

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from coaching.check_ins.documents import Kind
from coaching.check_ins.documents.papers import SIZES
from coaching.check_ins.making import documents_of
from coaching.desk.pack_asked import read_pack_asked
from coaching.desk.views.packs import LOOKED_AT, get_client_or_404
from roster.people.models import ViewRecord

CONTENT_TYPES = {
    Kind.PDF: "application/pdf",
    Kind.WORKBOOK: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    Kind.TABLE: "text/csv; charset=utf-8",
}


@require_safe
@login_required
def pack_document(request: HttpRequest, public_id: UUID, document: str) -> HttpResponse:
    client, size = get_client_or_404(request, public_id), request.GET.get("size", "a4")
    if document not in list(Kind) or size not in SIZES:
        raise Http404
    asked = read_pack_asked(request, client, request.GET.get("version", ""))
    if asked.pack.nothing:
        # The page says why.
        return redirect(f"{reverse('client_pack', args=[client.public_id])}?{asked.days}")
    ViewRecord.objects.add_looks(request.user, [client], LOOKED_AT)
    kind = Kind(document)
    ((name, content),) = documents_of(asked.pack, [asked.paper], [kind], size)
    disposition = content_disposition_header(as_attachment=True, filename=name)
    return HttpResponse(content, CONTENT_TYPES[kind], headers={"Content-Disposition": disposition})
