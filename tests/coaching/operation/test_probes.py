from __future__ import annotations

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory

from coaching.operation.probes import answer_probes


def test_a_page_that_fails_is_told_without_a_word_of_probes(rf: RequestFactory) -> None:
    def fail(request: HttpRequest) -> HttpResponse:
        raise ValueError("quillwort")

    with pytest.raises(ValueError, match="quillwort") as failure:
        answer_probes(fail)(rf.get("/turnout/"))

    assert failure.value.__context__ is None
