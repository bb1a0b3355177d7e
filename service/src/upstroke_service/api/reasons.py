"""The reasons for and against a candidate, each a sentence with its number and its limit."""

from typing import NamedTuple

from msgspec import UNSET

from upstroke_service.contract.answered import Finding
from upstroke_service.contract.quantities import HandForce, Head, Pressure, Size, StrokeRate, WaterVolume
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.circumstances import NEAR_SUCTION_LIMIT
from upstroke_service.sizing.operation import LONGEST_HAND_TRAVEL
from upstroke_service.sizing.remedies import NOTABLE_INERTIA

from .style import Kind, Style, wordless

NOTABLE_LEAK = 0.05
"""Share of a stroke lost through the weep hole from which it is worth a sentence."""

NOTABLE_STRETCH = 0.05
"""Share of the stroke lost to stretch from which it is worth a sentence."""

LARGE_STRETCH = 0.2
"""Share of the stroke lost to stretch from which other materials should be considered."""

NOTABLE_SLOWING = 0.9
"""Share of the preferred cadence below which slowing down is worth a sentence."""


class Case(NamedTuple):
    """One candidate's numbers, SI; flags are 0 or 1 and ``governing`` is an index into LIMITS."""

    limits: list[float]
    total_head: float
    rated_lift: float
    start: float
    end: float
    target: float
    ceiling: float
    force_at_end: float
    force_at_target: float
    force_limit: float
    comfortable_force: float
    inertia_force: float
    strokes: float
    seconds: float
    volume: float
    leak_share: float
    cadence_at_end: float
    preferred_cadence: float
    wanted_cadence: float
    stroke: float
    full_stroke: float
    effective_stroke: float
    handle_ratio: float
    pushed: float
    suction_lift: float
    suction_limit: float
    outside_diameter: float
    casing_room: float
    suction: float
    too_deep: float
    too_wide: float
    too_short: float
    open_tank: float
    reaches_target: float
    governing: float

    @property
    def governed_by(self) -> str:
        """What rules the candidate out or sets its ceiling."""
        if self.too_deep:
            return "suction_lift"
        if self.too_wide:
            return "casing"
        return "handle_travel" if self.too_short else LIMITS[int(self.governing)]

    @property
    def ruled_out(self) -> bool:
        """Whether the cylinder can't be used here at all, whatever the pressure."""
        return bool(self.too_deep or self.too_wide or self.too_short)


def finding(
    style: Style, code: str, kind: Kind | None, value: float | None, limit: float | None, /, **words: str
) -> Finding:
    """A sentence with its number and limit beside it, in the units of the style."""
    text = style.words.say("reason", code, **words)
    if kind is None:
        return Finding(code=code, text=text, value=UNSET if value is None else value)
    return Finding(
        code=code,
        text=text,
        value=UNSET if value is None else style.number(kind, value),
        limit=UNSET if limit is None else style.number(kind, limit),
        unit=style.outputs[kind].unit,
    )


def placement_reasons(case: Case, style: Style) -> list[Finding]:
    """Whether the cylinder's rated lift, the suction limit and the casing allow it."""
    return [*_place(case, style), *_lift(case, style)]


def reasons(case: Case, style: Style) -> list[Finding]:
    """Every reason of a candidate, what rules it out first."""
    found = [*_place(case, style), *_lift(case, style)]
    if case.ruled_out:
        return found
    found += _force(case, style)
    found += _hole(case, style)
    if case.volume > 0.0:
        found += _fill(case, style)
    else:
        found += _nothing_stored(case, style)
    found += _give(case, style)
    if case.stroke < case.full_stroke * (1.0 - 1e-9):
        found += _shortened(case, style, "handle_travel")
    found.sort(key=lambda one: _ORDER.get(one.code, 1))
    return found


def codes(case: Case) -> list[str]:
    """Codes of every reason of a candidate, in their order."""
    return [one.code for one in reasons(case, wordless())]


_ORDER = {
    "suction_too_deep": 0,
    "too_wide": 0,
    "travel_too_long": 0,
    "lift_exceeded": 0,
    "lift_exceeded_at_rest": 0,
    "hand_force_exceeded": 0,
    "hand_force_exceeded_at_rest": 0,
    "weep_hole_stall": 0,
    "stops_before_storing": 0,
    "target_below_storage": 0,
}

RULING_OUT = frozenset(_ORDER)
"""Codes of the reasons that rule a cylinder out, or its target."""


def _place(case: Case, style: Style) -> list[Finding]:
    found: list[Finding] = []
    if case.too_wide:
        found.append(
            finding(
                style,
                "too_wide",
                Size,
                case.outside_diameter,
                case.casing_room,
                outside=style.text(Size, case.outside_diameter),
                room=style.text(Size, case.casing_room),
            )
        )
    if case.too_short:
        found += _shortened(case, style, "travel_too_long")
    if case.suction:
        near = case.suction_lift > NEAR_SUCTION_LIMIT * case.suction_limit
        code = "suction_too_deep" if case.too_deep else "suction_near_limit" if near else "suction"
        found.append(
            finding(
                style,
                code,
                Head,
                case.suction_lift,
                case.suction_limit,
                lift=style.text(Head, case.suction_lift),
                limit=style.text(Head, case.suction_limit),
                margin=style.text(Head, case.suction_limit - case.suction_lift),
            )
        )
    return found


def _lift(case: Case, style: Style) -> list[Finding]:
    margin = case.rated_lift - case.total_head
    reach = case.limits[0]
    code = "lift_margin" if margin >= 0.0 else "lift_exceeded" if reach > 0.0 else "lift_exceeded_at_rest"
    return [
        finding(
            style,
            code,
            Head,
            case.total_head,
            case.rated_lift,
            total=style.text(Head, case.total_head),
            rated=style.text(Head, case.rated_lift),
            margin=style.text(Head, margin),
            excess=style.text(Head, -margin),
            reach=style.text(Pressure, reach),
        )
    ]


def _force(case: Case, style: Style) -> list[Finding]:
    reach = case.limits[1]
    limit = style.text(HandForce, case.force_limit)
    if reach < case.target:
        code = "hand_force_exceeded" if reach > 0.0 else "hand_force_exceeded_at_rest"
        return [
            finding(
                style,
                code,
                HandForce,
                case.force_at_target,
                case.force_limit,
                force=style.text(HandForce, case.force_at_target),
                target=style.text(Pressure, case.target),
                limit=limit,
                reach=style.text(Pressure, reach),
            )
        ]
    code = "hand_force" if case.force_at_end <= case.comfortable_force else "hand_force_repeated"
    return [
        finding(
            style,
            code,
            HandForce,
            case.force_at_end,
            case.force_limit,
            force=style.text(HandForce, case.force_at_end),
            end=style.text(Pressure, case.end),
            limit=limit,
            comfortable=style.text(HandForce, case.comfortable_force),
        )
    ]


def _hole(case: Case, style: Style) -> list[Finding]:
    reach = case.limits[2]
    if reach < case.target:
        return [
            finding(style, "weep_hole_stall", Pressure, reach, case.target, reach=style.text(Pressure, reach))
        ]
    if case.leak_share < NOTABLE_LEAK or case.volume <= 0.0:
        return []
    share = f"{case.leak_share:.0%}"
    return [
        finding(
            style,
            "weep_hole",
            None,
            round(case.leak_share, 4),
            None,
            share=share,
            end=style.text(Pressure, case.end),
        )
    ]


def _fill(case: Case, style: Style) -> list[Finding]:
    found: list[Finding] = []
    end = style.text(Pressure, case.end)
    if case.end < case.target:
        found.append(
            finding(
                style,
                "stops_early",
                Pressure,
                case.end,
                case.target,
                end=end,
                target=style.text(Pressure, case.target),
                governing=style.words.say("limit", case.governed_by),
            )
        )
    found.append(
        finding(
            style,
            "fill",
            WaterVolume,
            case.volume,
            None,
            strokes=f"{case.strokes:,.0f}",
            minutes=style.duration(case.seconds),
            water=style.text(WaterVolume, case.volume),
        )
    )
    if case.suction and case.preferred_cadence < NOTABLE_SLOWING * case.wanted_cadence:
        cadence = f"{60.0 * case.preferred_cadence:.0f}"
        found.append(
            finding(
                style,
                "suction_slow",
                StrokeRate,
                case.preferred_cadence,
                case.wanted_cadence,
                cadence=cadence,
            )
        )
    if case.cadence_at_end < NOTABLE_SLOWING * case.preferred_cadence:
        cadence = f"{60.0 * case.cadence_at_end:.0f}"
        found.append(
            finding(
                style,
                "slow",
                StrokeRate,
                case.cadence_at_end,
                case.preferred_cadence,
                end=end,
                cadence=cadence,
            )
        )
    return found


def _nothing_stored(case: Case, style: Style) -> list[Finding]:
    if case.start >= case.target and not case.open_tank:
        return [target_below_storage(case.start, case.target, style)]
    if case.governed_by in {"rated_lift", "hand_force", "net_delivery"}:
        # Those three have said so already.
        return []
    return [
        finding(
            style,
            "stops_before_storing",
            Pressure,
            case.ceiling,
            case.start,
            reach=style.text(Pressure, max(case.ceiling, 0.0)),
            start=style.text(Pressure, case.start),
            governing=style.words.say("limit", case.governed_by),
        )
    ]


def target_below_storage(start: float, target: float, style: Style) -> Finding:
    """That a tank stores water above ``start`` in Pa only, and should be filled to a ``target`` in Pa below."""
    texts = {"start": style.text(Pressure, start), "target": style.text(Pressure, target)}
    return finding(style, "target_below_storage", Pressure, target, start, **texts)


def _give(case: Case, style: Style) -> list[Finding]:
    """What stretch and inertia do, and a rod that has to be pushed down."""
    found: list[Finding] = []
    lost = case.stroke - case.effective_stroke
    end = style.text(Pressure, case.end)
    if lost > NOTABLE_STRETCH * case.stroke:
        code = "stretch_large" if lost > LARGE_STRETCH * case.stroke else "stretch"
        found.append(
            finding(
                style,
                code,
                Size,
                case.effective_stroke,
                case.stroke,
                end=end,
                lost=style.text(Size, lost),
                left=style.text(Size, case.effective_stroke),
                stroke=style.text(Size, case.stroke),
            )
        )
    if case.inertia_force > NOTABLE_INERTIA * case.force_at_end:
        found.append(
            finding(
                style,
                "inertia",
                HandForce,
                case.inertia_force,
                case.force_at_end,
                added=style.text(HandForce, case.inertia_force),
                force=style.text(HandForce, case.force_at_end),
                end=end,
            )
        )
    if case.pushed:
        found.append(finding(style, "rod_pushed", Pressure, case.end, None, end=end))
    return found


def _shortened(case: Case, style: Style, code: str) -> list[Finding]:
    return [
        finding(
            style,
            code,
            Size,
            case.stroke,
            case.full_stroke,
            longest=style.text(Size, LONGEST_HAND_TRAVEL),
            travel=style.text(Size, case.full_stroke * case.handle_ratio),
            stroke=style.text(Size, case.stroke),
            full=style.text(Size, case.full_stroke),
        )
    ]
