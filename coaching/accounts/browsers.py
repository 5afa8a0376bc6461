"""What a browser calls itself, in words that somebody recognises their own by."""

from __future__ import annotations

# The first that occurs: all of them claim to be several.
BROWSERS = {"Edg": "Edge", "OPR": "Opera", "Firefox": "Firefox", "FxiOS": "Firefox", "Chrome": "Chrome",
            "CriOS": "Chrome", "Safari": "Safari"}  # fmt: skip
SYSTEMS = {"iPhone": "an iPhone", "iPad": "an iPad", "Android": "Android", "Windows": "Windows", "Mac OS": "a Mac",
           "CrOS": "a Chromebook", "Linux": "Linux"}  # fmt: skip


def name_browser(agent: str) -> str:
    browser = next((name for sign, name in BROWSERS.items() if sign in agent), "A browser")
    system = next((name for sign, name in SYSTEMS.items() if sign in agent), None)
    return f"{browser} on {system}" if system else browser
