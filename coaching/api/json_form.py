"""JSON in and out: one form for one content, so that an ETag tells equal answers; bodies of a few lines only."""

from __future__ import annotations

import hashlib
from io import BytesIO
from typing import Any

from rest_framework.exceptions import APIException, ParseError
from rest_framework.parsers import JSONParser
from rest_framework.renderers import JSONRenderer

MOST_BODY_BYTES = 64 * 1024
_ETAG_LENGTH = 32


class TooLarge(APIException):
    status_code = 413
    default_detail = f"The body is larger than {MOST_BODY_BYTES // 1024} KB."


class Json(JSONRenderer):
    charset = None

    def get_indent(self, accepted_media_type: str, renderer_context: dict[str, Any]) -> None:
        return None


class SmallJson(JSONParser):
    def parse(self, stream: Any, media_type: str | None = None, parser_context: dict[str, Any] | None = None) -> Any:
        body = stream.read(MOST_BODY_BYTES + 1)
        if len(body) > MOST_BODY_BYTES:
            raise TooLarge
        try:
            return super().parse(BytesIO(body), media_type, parser_context)
        except RecursionError:
            raise ParseError("The body is nested too deeply.") from None


def etag_of(content: bytes) -> str:
    """Strong: another one with the first byte that differs."""
    return f'"{hashlib.sha256(content).hexdigest()[:_ETAG_LENGTH]}"'
