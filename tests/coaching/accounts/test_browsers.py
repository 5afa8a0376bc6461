from __future__ import annotations

import pytest

from coaching.accounts.browsers import name_browser

CHROME = "AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36"


@pytest.mark.parametrize(
    ("agent", "name"),
    [
        (f"Mozilla/5.0 (Windows NT 10.0; Win64; x64) {CHROME}", "Chrome on Windows"),
        (f"Mozilla/5.0 (Windows NT 10.0; Win64; x64) {CHROME} Edg/140.0.0.0", "Edge on Windows"),
        (f"Mozilla/5.0 (Linux; Android 15; Pixel 9) {CHROME}", "Chrome on Android"),
        ("Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0", "Firefox on Linux"),
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Version/18.0 Safari/604.1", "Safari on an iPhone"),
        ("Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) Version/18.0 Safari/605.1.15", "Safari on a Mac"),
        ("a phone", "A browser"),
        ("", "A browser"),
    ],
)
def test_a_browser_is_named_as_people_name_it(agent: str, name: str) -> None:
    assert name_browser(agent) == name
