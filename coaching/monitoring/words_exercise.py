"""Findings about one exercise in words."""

from __future__ import annotations

from typing import Any

from analytics.frame_schema import Measure, Reason
from analytics.landings import NO_LANDING
from analytics.training_weeks import to_date
from coaching.monitoring.context import FindingContext
from coaching.monitoring.plain_words import count_text, day_text, number_text

_REASONS = {
    Reason.NONE: "met", Reason.NOT_LOGGED: "not logged", Reason.LOAD_BELOW: "lighter than asked",
    Reason.SETS_SHORT: "fewer sets", Reason.OTHER_LOAD: "heavier than asked", Reason.REPS_SHORT: "fewer reps",
    Reason.REST_OVER: "met, with longer rest",
}
_COUNTED = {Measure.REPS: "", Measure.SECONDS: " s", Measure.METRES: " m"}
_COLUMNS = ["Day", "Session", "Asked", "Done", "Verdict"]
_SHOWN_EXPOSURES = 8


def stall(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    thresholds = context.assessment.history.thresholds
    on_landing = _on_present_landing(context, finding)
    latest = on_landing[-1]
    in_a_row = finding["count"]
    reason = _REASONS[Reason(latest["reason"])]
    asked, done = _asked(context, finding, latest), _done(context, finding, latest)
    if in_a_row >= thresholds.stall_watch_exposures:
        start = f"{_name(context, finding)}, short {count_text(in_a_row)} times running on this landing"
    else:
        start = f"{_name(context, finding)}, second round on this landing"
    return _words(
        context, finding, on_landing,
        sentence=f"{start}: {asked}, done {done} ({reason}).",
        remark=_last_met(context, finding, on_landing),
        rule=(
            f"On one landing the last {count_text(thresholds.stall_watch_exposures)} short are to watch; the last "
            f"{count_text(thresholds.stall_act_exposures)}, or the same sets, reps and rest short again, are to act on."
        ),
        clears="The next exposure that is met.",
        options=[
            "Look at technique, sleep and the log first.", "Give the rest back.", "Go again from the last stage met.",
        ],
    )


def step_not_taken(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    exposures = _exposures(context, finding)
    latest = [row for row in exposures if row["landing"] != NO_LANDING][-1]
    count = count_text(finding["count"])
    return _words(
        context, finding, exposures,
        sentence=(
            f"{_name(context, finding)}: {context.load_text(latest['load_code'], finding['client_row'])} asked, "
            f"{count} sessions running still {_heaviest(context, finding, latest)}."
        ),
        remark="Not there, too hard, didn’t dare, forgot? Ask first.",
        rule=f"A heavier landing, and in its last {count} exposures no set above the old load and 1 %.",
        clears="A set at the new load, or a plan that goes back to the old one.",
        options=["Ask which of the four it is.", "Offer one set at the new load and the rest at the old."],
    )


def skips_it(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    thresholds = context.assessment.history.thresholds
    exposures = _exposures(context, finding)
    of = min(len(exposures), thresholds.skipped_of_exposures)
    return _words(
        context, finding, exposures,
        sentence=f"{_name(context, finding)}: not logged in {finding['count']} of its last {of} sessions.",
        rule=f"Not logged in {thresholds.skipped_exposures} of its last {thresholds.skipped_of_exposures} exposures.",
        clears="Two sessions with it.",
        options=["Ask why: no kit, no time, no liking, or it hurts.", "Offer another exercise of the same slot."],
    )


def no_step(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    thresholds = context.assessment.history.thresholds
    on_landing = _on_present_landing(context, finding)
    asked = _asked(context, finding, on_landing[-1])
    return _words(
        context, finding, on_landing,
        sentence=f"{_name(context, finding)}: the same {asked} in {finding['count']} weeks of this landing.",
        rule=(
            f"The same sets, reps, rest and load in {thresholds.no_step_weeks} weeks or more, with turnout of at least "
            f"{round(thresholds.no_step_turnout * 100)} % over the last eight weeks."
        ),
        clears="A week that asks for more.",
        options=["Let one variable get harder next week."],
    )


def too_easy(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    thresholds = context.assessment.history.thresholds
    on_landing = _on_present_landing(context, finding)
    latest = on_landing[-1]
    return _words(
        context, finding, on_landing,
        sentence=(
            f"{_name(context, finding)}: last set {count_text(thresholds.too_easy_reps)} or more reps over, "
            f"twice running; {_asked(context, finding, latest)}, done {_done(context, finding, latest)}."
        ),
        rule=(
            f"Two-for-two: in the last {count_text(thresholds.too_easy_exposures)} exposures of the landing all met, "
            f"the last set {count_text(thresholds.too_easy_reps)} or more reps over."
        ),
        clears="A heavier load or more reps asked for.",
        options=["Take the next load step early."],
    )


def ready(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    exposures = _exposures(context, finding)
    latest = exposures[-1]
    return _words(
        context, finding, exposures,
        sentence=(
            f"{_name(context, finding)}: the last stage of its round met, {_asked(context, finding, latest)}, "
            f"done {_done(context, finding, latest)}. Ready for the next load step."
        ),
        rule="Every exposure of the round’s last two stages met, without pain, and not with only 0-1 left at the end.",
        clears="The next round.",
        options=["Step to the next load of the kit, sets and reps back to the first stage."],
    )


def _words(
    context: FindingContext, finding: dict[str, int], exposures: list[dict[str, Any]], **words: Any
) -> dict[str, Any]:
    return {
        **words,
        "evidence_columns": _COLUMNS,
        "evidence_rows": [_evidence_row(context, finding, row) for row in exposures[-_SHOWN_EXPOSURES:]],
    }


def _evidence_row(context: FindingContext, finding: dict[str, int], exposure: dict[str, Any]) -> list[str]:
    return [
        day_text(to_date(exposure["performed_day"])),
        context.session_text(exposure["session_id"]),
        _asked(context, finding, exposure),
        _done(context, finding, exposure) or "–",
        _REASONS[Reason(exposure["reason"])],
    ]


def _name(context: FindingContext, finding: dict[str, int]) -> str:
    name = context.exercise_names[finding["subject"]]
    return name[:1].upper() + name[1:]


def _exposures(context: FindingContext, finding: dict[str, int]) -> list[dict[str, Any]]:
    return context.exposures_until(finding["client_row"], finding["subject"], finding["day"])


def _on_present_landing(context: FindingContext, finding: dict[str, int]) -> list[dict[str, Any]]:
    kept = [row for row in _exposures(context, finding) if row["landing"] != NO_LANDING]
    return [row for row in kept if row["landing"] == kept[-1]["landing"]]


def _asked(context: FindingContext, finding: dict[str, int], exposure: dict[str, Any]) -> str:
    """Such as "4 × 9 at 18 kg with 65 s rest", "3 × 30 s" or "3 × 8 each"."""
    load = context.load_text(exposure["load_code"], finding["client_row"])
    rest = f" with {number_text(exposure['rest_s'])} s rest" if exposure["rest_s"] is not None else ""
    counted = _COUNTED[Measure(exposure["measure"])] + (" each" if exposure["sides"] > 1 else "")
    return f"{exposure['sets']} × {_targets(context, exposure)}{counted}" + (f" at {load}" if load else "") + rest


def _targets(context: FindingContext, exposure: dict[str, Any]) -> str:
    if exposure["target_code"] >= 0:
        return str(exposure["reps"])
    return "-".join(map(str, context.targets_of_sets[exposure["planned_id"]]))


def _done(context: FindingContext, finding: dict[str, int], exposure: dict[str, Any]) -> str:
    """Such as "9-9-8-6", with the loads where they were not the one asked for."""
    reps = "-".join(str(reps) for reps, _ in exposure["done"])
    loads = {load for _, load in exposure["done"] if load >= 0}
    if exposure["load_code"] < 0 or loads <= {exposure["load_code"]} or not loads:
        return reps
    heaviest_first = [context.load_text(load, finding["client_row"]) for load in sorted(loads, reverse=True)]
    return f"{reps} at {' and '.join(heaviest_first)}"


def _heaviest(context: FindingContext, finding: dict[str, int], exposure: dict[str, Any]) -> str:
    loads = [load for _, load in exposure["done"] if load >= 0]
    return context.load_text(max(loads), finding["client_row"]) if loads else "without a load"


def _last_met(context: FindingContext, finding: dict[str, int], on_landing: list[dict[str, Any]]) -> str:
    met = [row for row in on_landing if row["is_met"]]
    if not met:
        return "Nothing met on this landing yet."
    met_on = day_text(to_date(met[-1]["performed_day"]))
    return f"Met {_asked(context, finding, met[-1])} on {met_on}: go again from there?"
