"""The rules of the interface for programs, as the framework's packages read them from the settings."""

from typing import Any

REST_FRAMEWORK: dict[str, Any] = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "coaching.api.authentication.ByToken", "coaching.api.authentication.BySession",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["coaching.api.authentication.IsSignedIn", "coaching.api.authentication.HasTheScope"],
    "DEFAULT_THROTTLE_CLASSES": ["coaching.api.throttles.Throttle"],
    "DEFAULT_RENDERER_CLASSES": ["coaching.api.json_form.Json"],
    "DEFAULT_PARSER_CLASSES": ["coaching.api.json_form.SmallJson"],
    "DEFAULT_SCHEMA_CLASS": "coaching.api.describing.Described",
    "DEFAULT_METADATA_CLASS": None,
    "EXCEPTION_HANDLER": "coaching.api.problems.answer_fault",
    # What is wanted is said in the Accept header, not in the address.
    "URL_FORMAT_OVERRIDE": None,
}

# The model of our own that knows scopes and the end with the password.
KNOX_TOKEN_MODEL = "api.AccessToken"
REST_KNOX = {"AUTH_HEADER_PREFIX": "Bearer", "TOKEN_PREFIX": "muster_"}

API_DESCRIPTION = """\
What the desk knows, for other programs: the same clients, facts and findings as its pages and exports, as at today in
each client's zone or as at an earlier day (`as_of`).

Sign in with a token in the `Authorization` header, made under *Your account*, or with the session of the desk. Whatever
is not yours answers 404, as if it were not there. Lists come in pages: follow `next` until it is null. Every answer
has an `ETag`; sent back as `If-None-Match` it saves the body, and as `If-Match` it says on which state of a finding you
act. Every fault is a problem detail (RFC 9457). Nothing here is medical advice, and nobody watches it live.
"""
SPECTACULAR_SETTINGS: dict[str, Any] = {
    "TITLE": "Muster",
    "DESCRIPTION": API_DESCRIPTION,
    "VERSION": "1",
    "OAS_VERSION": "3.1.1",
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "SERVE_INCLUDE_SCHEMA": False,
    "PREPROCESSING_HOOKS": ["coaching.api.describing.only_the_interface"],
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums", "coaching.api.describing.bodies_take_no_other_members",
    ],
    "ENUM_NAME_OVERRIDES": {
        "SessionStatus": "coaching.monitoring.models.Status",
        "ClientState": "roster.people.models.client.Client.State",
        "Sends": "roster.people.models.client.Client.Sends",
        "MassUnit": "roster.mass.MassUnit",
        "LoadKind": "roster.mass.LoadKind",
        "Slot": "roster.blocks.models.Slot",
        "Measure": "roster.blocks.models.Measure",
        "Changed": "roster.blocks.models.Changed",
        "Kind": "coaching.monitoring.models.Kind",
        "Urgency": "coaching.monitoring.models.Urgency",
        "Standing": "coaching.monitoring.models.LogFact.Standing",
        "Contact": "roster.people.models.words.Contact.How",
    },
}
