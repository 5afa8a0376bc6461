"""Colours of papers: those of the pages by day; the charts' from the set of Okabe and Ito."""

INK, MUTED, RULE = "#1e2430", "#5b6370", "#e0dbcf"
MARK, NEEDS_YOU, SAFETY = "#2f3a4f", "#b0450c", "#6d1f5c"
ASKED, DONE, SHORT, HEAVIER = "#5b6370", "#0072b2", "#d55e00", "#009e73"
ALL = {"ink": INK, "muted": MUTED, "rule": RULE, "safety": SAFETY, "done": DONE}
