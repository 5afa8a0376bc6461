"""How Mozilla's HTTP Observatory grades an answer, ported from its own program.

Source: mdn/mdn-http-observatory (MPL 2.0), commit 94042bbfbf9f1af722ad9114ada6d271dcb525b9 of 20 August 2026: the
modifiers from SCORE_TABLE in src/grader/charts.js, the conditions from src/analyzer/tests/, the sum from
src/scanner/index.js. Left out is what a scanner alone can tell: the certificate, and the list of preloaded hosts.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from http.cookies import Morsel

from bs4 import BeautifulSoup

START = 100
LEAST_FOR_EXTRA_CREDIT = 90
SIX_MONTHS_SECONDS = 15_552_000
BROAD = {"ftp:", "http:", "https:", "*", "http://*", "http://*.*", "https://*", "https://*.*"}
INLINE = {"'unsafe-inline'", "data:"}
PRIVATE_REFERRER = {"no-referrer", "same-origin", "strict-origin", "strict-origin-when-cross-origin"}
UNSAFE_REFERRER = {"origin", "origin-when-cross-origin", "unsafe-url", "no-referrer-when-downgrade"}


@dataclass(frozen=True)
class Answer:
    """What came over HTTPS, with all cookies that the browser holds by then."""

    headers: Mapping[str, str]
    page: str = ""
    cookies: Mapping[str, Morsel[str]] = field(default_factory=dict)

    def header(self, name: str) -> str | None:
        return next((value for key, value in self.headers.items() if key.lower() == name), None)


def modifiers(answer: Answer) -> dict[str, int]:
    return {
        "content-security-policy": _policy(answer),
        "cookies": _cookies(answer),
        "cross-origin-resource-sharing": _sharing(answer),
        "referrer-policy": _referrer(answer),
        "strict-transport-security": _transport(answer),
        "subresource-integrity": _integrity(answer),
        "x-content-type-options": 0 if _is(answer, "x-content-type-options", "nosniff") else -5,
        "x-frame-options": _frames(answer),
        "cross-origin-resource-policy": _one_of(
            answer, "cross-origin-resource-policy", {"same-origin": 10, "same-site": 10, "cross-origin": 0}
        ),
        "cross-origin-embedder-policy": _one_of(
            answer, "cross-origin-embedder-policy", {"require-corp": 10, "credentialless": 10, "unsafe-none": 0}
        ),
        "cross-origin-opener-policy": _one_of(
            answer,
            "cross-origin-opener-policy",
            {"same-origin": 10, "same-origin-allow-popups": 10, "noopener-allow-popups": 10, "unsafe-none": 0},
        ),
    }


def score(answer: Answer) -> int:
    """Extra credit counts only where the faults alone leave 90 or more."""
    found = modifiers(answer).values()
    with_faults = START + sum(modifier for modifier in found if modifier < 0)
    return START + sum(found) if with_faults >= LEAST_FOR_EXTRA_CREDIT else max(with_faults, 0)


def _is(answer: Answer, name: str, value: str) -> bool:
    return (answer.header(name) or "").strip().lower() == value


def _one_of(answer: Answer, name: str, worth: Mapping[str, int]) -> int:
    """Nothing for no header, five less for one that says something unknown."""
    value = answer.header(name)
    return 0 if value is None else worth.get(value.strip().lower(), -5)


def _directives(answer: Answer) -> dict[str, set[str]] | None:
    parts = [part.split() for part in (answer.header("content-security-policy") or "").split(";") if part.strip()]
    names = [words[0].lower() for words in parts]
    if len(names) != len(set(names)):
        return None
    return {name: {word.lower() for word in words[1:]} or {"'none'"} for name, words in zip(names, parts, strict=True)}


def _policy(answer: Answer) -> int:
    directives = _directives(answer)
    if not directives:
        return -25
    otherwise = directives.get("default-src", {"*"})
    script, style, plugin = (directives.get(name, otherwise) for name in ("script-src", "style-src", "object-src"))
    script, style = _without_needless_inline(script), _without_needless_inline(style)
    passive = directives.get("img-src", otherwise) | directives.get("media-src", otherwise)
    active = set().union(*(sources for name, sources in directives.items() if name not in {"img-src", "media-src"}))
    if script & (BROAD | INLINE) or plugin & BROAD or any(one.startswith(("http:", "ftp:")) for one in active):
        return -20
    if "'unsafe-eval'" in script | style or any(one.startswith(("http:", "ftp:")) for one in passive):
        return -10
    if style & (BROAD | INLINE):
        return 0
    return 10 if directives.get("default-src") == {"'none'"} else 5


def _without_needless_inline(sources: set[str]) -> set[str]:
    has_hash = any(one.startswith(("'sha256-", "'sha384-", "'sha512-", "'nonce-")) for one in sources)
    return sources - {"'unsafe-inline'"} if has_hash else sources


def _cookies(answer: Answer) -> int:
    if not answer.cookies:
        return 0
    is_protected = _transport(answer) == 0
    return min(_cookie(name.lower(), morsel, is_protected) for name, morsel in answer.cookies.items())


def _cookie(name: str, morsel: Morsel[str], is_protected: bool) -> int:
    is_session, same_site = "login" in name or "sess" in name, morsel["samesite"].lower()
    faults = [0 if not same_site else 5]
    if same_site not in {"", "lax", "strict", "none"} or (same_site == "none" and not morsel["secure"]):
        faults.append(-20)
    if "csrf" in name and not same_site:
        faults.append(-20)
    if not morsel["secure"]:
        faults.append((-10 if is_protected else -40) if is_session else (-5 if is_protected else -20))
    if is_session and not morsel["httponly"]:
        faults.append(-30)
    return min(faults)


def _sharing(answer: Answer) -> int:
    """Asked from an origin elsewhere, which an answer for everybody repeats together with leave to send cookies."""
    origin = answer.header("access-control-allow-origin")
    return -50 if origin not in {None, "*"} and _is(answer, "access-control-allow-credentials", "true") else 0


def _referrer(answer: Answer) -> int:
    value = answer.header("referrer-policy")
    if value is None:
        return 0
    words = [word.strip().lower() for word in value.split(",")]
    known = [word for word in words if word in PRIVATE_REFERRER | UNSAFE_REFERRER]
    return 5 if known and known[-1] in PRIVATE_REFERRER else -5


def _transport(answer: Answer) -> int:
    value = answer.header("strict-transport-security") or ""
    seconds = re.search(r"max-age=(\d+)", value.lower())
    if not seconds or "," in value:
        return -20
    return 0 if int(seconds[1]) >= SIX_MONTHS_SECONDS else -10


def _frames(answer: Answer) -> int:
    if "frame-ancestors" in (_directives(answer) or {}):
        return 5
    value = (answer.header("x-frame-options") or "").strip().lower()
    return 5 if value in {"deny", "sameorigin"} else (0 if value.startswith("allow-from") else -20)


def _integrity(answer: Answer) -> int:
    """Of scripts from elsewhere; for our own a hash gives a bonus, and its want costs nothing."""
    if not (answer.header("content-type") or "").startswith("text/html"):
        return 0
    scripts = BeautifulSoup(answer.page, "html.parser").select("script[src]")
    elsewhere = [one for one in scripts if re.match(r"(https?:)?//", one["src"])]
    if any(not one["src"].startswith("https:") for one in elsewhere):
        return -20 if all(one.get("integrity") for one in elsewhere) else -50
    if any(not one.get("integrity") for one in elsewhere):
        return -5
    return 5 if elsewhere or any(one.get("integrity") for one in scripts) else 0
