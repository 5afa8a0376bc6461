"""Files handed in at the desk: put by, looked through, mended, and taken only once somebody says so."""

from __future__ import annotations

from uuid import UUID, uuid4

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from coaching.desk.file_forms import mends_in, number_in, numbers_in, progress_token
from coaching.desk.file_rows import rows_of
from coaching.loads import incoming, kept_lines, reviewing
from coaching.loads.models import FileInReview, Load, may_load
from coaching.loads.progress import PageProgress, read_progress
from roster.tables.faults import FileRefused

LOADS_A_PAGE = 50
MOST_FILES_AT_ONCE = 20
VIEWS = ("faults", "changed", "all")
CUT_OFF = "The files did not arrive whole, so that none of them was taken. Please hand them in again."
CHANGED = "The file or the record is no longer as it was when you looked. This is what loading would do now."


@require_safe
@login_required
def files(request: HttpRequest) -> HttpResponse:
    _refuse_readers(request)
    loads = Load.objects.visible_to(request.user).select_related("by", "undone_by").defer("told", "made", "said_again")
    context = {
        "most_files": MOST_FILES_AT_ONCE,
        "page": Paginator(loads, LOADS_A_PAGE).get_page(request.GET.get("page")),
        "token": uuid4(),
        "waiting": FileInReview.objects.visible_to(request.user).waiting().light(),
    }
    return render(request, "desk/files.html", context)


@require_POST
@login_required
def file_add(request: HttpRequest) -> HttpResponse:
    _refuse_readers(request)
    handed_in = request.FILES.getlist("files")
    # The last field of the form: without it, something before it may be missing too.
    if "whole" not in request.POST:
        messages.error(request, CUT_OFF)
    elif len(handed_in) > MOST_FILES_AT_ONCE:
        messages.error(request, f"These are {len(handed_in)} files; hand in {MOST_FILES_AT_ONCE} at most at a time.")
    elif not handed_in:
        messages.error(request, "Choose a file first.")
    else:
        taken = _take_in(request, handed_in)
        if len(handed_in) == 1 and taken:
            return redirect("file_review", taken[0].public_id)
    return redirect("files")


def _take_in(request: HttpRequest, handed_in: list[incoming.Upload]) -> list[FileInReview]:
    taken = []
    with PageProgress(request.user, progress_token(request)) as progress:
        for number, upload in enumerate(handed_in, start=1):
            progress(f"of {len(handed_in)} files read", number)
            try:
                taken.append(incoming.take_in(upload, request.user, timezone.now(), progress))
            except FileRefused as refused:
                messages.error(request, f"{incoming.plain_name(upload.name)} was not taken: {refused.fault}.")
    return taken


@require_safe
@login_required
def file_review(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_file_or_404(request, file_id)
    if file.load:
        return redirect("load_detail", file.load.public_id)
    context = {"file": file, "token": uuid4(), "kept_until": file.touched_at + incoming.KEPT_FOR}
    if not file.kind:
        reasons = kept_lines.why_not_of_kind(kept_lines.names_in_header(file))
        return render(request, "desk/file_kind.html", {**context, "reasons": reasons})
    which = request.GET.get("show", "")
    which = which if which in VIEWS else ("faults" if file.faults_total else "all")
    editing = number_in(request.GET.get("edit"))
    return render(
        request,
        "desk/file_review.html",
        {
            **context,
            "before": Load.objects.visible_to(request.user).standing().filter(digest=file.digest).first(),
            "editing": editing,
            "is_behind": _is_behind(file),
            "kinds": [kind for kind in kept_lines.LOADERS if kind != file.kind],
            "rows": rows_of(file, which, request.GET.get("page"), editing),
            "which": which,
        },
    )


def _is_behind(file: FileInReview) -> bool:
    """Whether something was loaded or undone in the studio since the file was checked."""
    of_studio = Load.objects.filter(studio=file.studio_id)
    return (of_studio.filter(loaded_at__gt=file.checked_at) | of_studio.filter(undone_at__gt=file.checked_at)).exists()


@require_POST
@login_required
def file_mend(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_waiting_or_404(request, file_id)
    with PageProgress(request.user, progress_token(request)) as progress:
        reviewing.mend(
            file,
            mends_in(request.POST),
            leave_out=numbers_in(request.POST.getlist("leave_out")),
            put_back=numbers_in(request.POST.getlist("put_back")),
            now=timezone.now(),
            progress=progress,
        )
    return redirect(_same_rows(request, file))


def _same_rows(request: HttpRequest, file: FileInReview) -> str:
    """The page of rows that was mended, as far as there still are such."""
    show, page = request.POST.get("show", ""), number_in(request.POST.get("page")) or 1
    is_done = show == "faults" and not file.faults_total
    asked = "?show=changed" if is_done else f"?show={show}&page={page}" if show in VIEWS else ""
    return reverse("file_review", args=[file.public_id]) + asked


@require_POST
@login_required
def file_kind(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_waiting_or_404(request, file_id)
    kind = request.POST.get("kind", "")
    if kind in kept_lines.LOADERS:
        try:
            reviewing.choose_kind(file, kind, timezone.now())
        except FileRefused as refused:
            messages.error(request, f"{file.file_name} can't be read as a file of {kind}: {refused.fault}.")
    return redirect("file_review", file.public_id)


@require_POST
@login_required
def file_check(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_waiting_or_404(request, file_id)
    with PageProgress(request.user, progress_token(request)) as progress:
        reviewing.check(file, timezone.now(), progress)
    return redirect("file_review", file.public_id)


@require_POST
@login_required
def file_confirm(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_file_or_404(request, file_id)
    if file.load:
        return redirect("load_detail", file.load.public_id)
    version = number_in(request.POST.get("version")) or 0
    try:
        with PageProgress(request.user, progress_token(request)) as progress:
            load = reviewing.confirm(file, by=request.user, version=version, now=timezone.now(), progress=progress)
    except reviewing.ReviewOutdated:
        messages.warning(request, CHANGED)
        return redirect("file_review", file.public_id)
    return redirect("load_detail", load.public_id)


@require_POST
@login_required
def file_drop(request: HttpRequest, file_id: UUID) -> HttpResponse:
    file = _get_waiting_or_404(request, file_id)
    file.delete()
    messages.success(request, f"{file.file_name} is put away; nothing of it was loaded.")
    return redirect("files")


@require_safe
@login_required
def file_progress(request: HttpRequest, token: UUID) -> HttpResponse:
    _refuse_readers(request)
    return JsonResponse(read_progress(request.user, token))


def _refuse_readers(request: HttpRequest) -> None:
    if not may_load(request.user):
        raise Http404


def _get_file_or_404(request: HttpRequest, file_id: UUID) -> FileInReview:
    return get_object_or_404(FileInReview.objects.visible_to(request.user).select_related("load"), public_id=file_id)


def _get_waiting_or_404(request: HttpRequest, file_id: UUID) -> FileInReview:
    return get_object_or_404(FileInReview.objects.visible_to(request.user).waiting(), public_id=file_id)
