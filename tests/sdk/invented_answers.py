"""Answers as a service might give them; every number is made up and none is a result."""

from typing import Any

Json = dict[str, Any]


def quantity(value: float, unit: str) -> Json:
    return {"value": value, "unit": unit}


def series(unit: str, *values: float) -> Json:
    return {"unit": unit, "values": list(values)}


def candidate(identifier: str = "slim", outcome: str = "fits", margin: float = 38.0) -> Json:
    total_head = 200.0 - margin
    heads = {
        "static_water_level": 60.0,
        "well_drawdown": 5.0,
        "outlet_height": 2.0,
        "rise": -1.0,
        "pressure_head": total_head - 69.0,
        "drop_pipe_friction": 1.0,
        "conduit_friction": 0.5,
        "fitting_losses": 0.5,
        "check_valve": 1.0,
        "total_head": total_head,
        "rated_lift": 200.0,
        "margin": margin,
    }
    return {
        "cylinder": {
            "id": identifier,
            "name": f"Invented {identifier}",
            "kind": "lift",
            "bore": quantity(1.5, "in"),
            "stroke": quantity(9.0, "in"),
        },
        "outcome": outcome,
        "governed_by": "rated_lift",
        "reasons": [{"code": "within_rating", "text": f"The reason for {identifier}.", "value": 1.0}],
        "lift_budget": {name: quantity(head, "ft") for name, head in heads.items()}
        | {
            "pressure_room": quantity(56.4, "psi") if margin > -90.0 else quantity(-4.0, "psi"),
            "target": quantity(40.0, "psi"),
            "cadence": quantity(38.0, "1/min"),
        },
        "ceiling": {
            "pressure": quantity(56.4, "psi"),
            "governed_by": "rated_lift",
            "limits": [{"code": "rated_lift", "pressure": quantity(56.4, "psi")}],
        },
        "fill": {
            "start": quantity(28.0, "psi"),
            "end": quantity(40.0, "psi"),
            "reaches_target": True,
            "water": quantity(5.25, "gal"),
            "strokes": 1234.0,
            "time": quantity(31.0, "min"),
            "work": quantity(6.0, "kcal"),
            "body_energy": quantity(36.0, "kcal"),
        },
        "effort": {
            "hand_force": quantity(31.0, "lbf"),
            "hand_force_at_start": quantity(24.0, "lbf"),
            "return_force": quantity(-3.0, "lbf"),
            "hand_travel": quantity(36.0, "in"),
            "cadence_at_start": quantity(40.0, "1/min"),
            "cadence_at_end": quantity(38.0, "1/min"),
            "power": quantity(60.0, "W"),
            "net_per_stroke": quantity(7.9, "fl_oz"),
            "efficiency": 0.71,
        },
    }


def caution(signal: str, text: str) -> Json:
    return {
        "code": "invented",
        "signal": signal,
        "text": text,
        "why": f"why of {text}",
        "who": f"who of {text}",
        "basis": [{"key": "invented", "citation": "invented"}],
    }


def task(text: str, who: str, **more: object) -> Json:
    return {"code": "invented", "text": text, "who": who, "basis": []} | more


def point(text: str) -> Json:
    return {"code": "invented", "text": text, "basis": []}


def hookup(**changes: object) -> Json:
    return {
        "way": "spigot",
        "name": "the outdoor spigot",
        "text": "A hose runs to it.",
        "verdict": "possible_with_conditions",
        "conditions": [task("Only if code allows it.", "A plumber.")],
        "advantages": [point("It is near.")],
        "drawbacks": [point("It freezes."), point("It is low.")],
        "checks": [
            task("Look at the tank.", "The owner."),
            task("Follow the pipe.", "A plumber."),
            task("Tap the gauge.", "The owner."),
        ],
        "parts": [{"code": "hose", "text": "Drinking-water hose.", "quantity": 2, "basis": []}],
    } | changes


def steps() -> list[Json]:
    listed = (
        ("prepare", "Lock the breaker.", "The owner."),
        ("prepare", "Close all taps.", "The owner."),
        ("prepare", "Pump to waste.", "Whoever pumps."),
        ("pump", "Stop at 40 psi.", "Whoever pumps."),
    )
    return [
        task(text, who, number=number, phase=phase) for number, (phase, text, who) in enumerate(listed, 1)
    ]


def needs() -> Json:
    volumes = {name: quantity(12.0, "gal/d") for name in ("each", "daily", "low", "high")}
    people = {"code": "basic", "text": "3 people: 12 gal a day", "count": 3.0, "basis": []} | volumes
    hens = {"code": "hen", "text": "8 hens: 1 gal a day", "count": 8.0, "basis": []} | volumes
    return {
        "summary": "About 13 gal a day is needed.",
        "lines": [people | {"varies": "More where it is hot."}, hens],
        "total": quantity(13.0, "gal/d"),
        "low": quantity(9.0, "gal/d"),
        "high": quantity(17.0, "gal/d"),
        "findings": [{"code": "sessions_a_day", "text": "That is a session every day."}],
    }


def session_plan(count: int = 2, **changes: object) -> Json:
    column = [float(step) for step in range(1, count + 1)]
    return {
        "count": count,
        "people": 1,
        "longest": quantity(30.0, "min"),
        "sessions": {
            "pressure": series("psi", *(28.0 + 6.0 * step for step in column)),
            "strokes": series("1", *(600.0 + step for step in column)),
            "time": series("min", *(15.0 + step for step in column)),
            "water": series("gal", *(3.0 - 0.1 * step for step in column)),
            "body_energy": series("kcal", *(18.0 for _ in column)),
        },
        "findings": [{"code": "sessions", "text": f"It takes {count} sessions."}],
        "flow": quantity(0.5, "gpm"),
    } | changes


def inertia(**changes: object) -> Json:
    heads = ("drop_pipe_head", "conduit_head", "hydraulic_institute_head")
    return {name: quantity(9.0, "ft") for name in heads} | {
        "hand_force": quantity(4.0, "lbf"),
        "governs": True,
        "remedies": [
            {
                "code": "air_chamber",
                "text": "An air chamber takes the force to 27 lbf.",
                "hand_force": quantity(27.0, "lbf"),
                "ceiling": quantity(56.4, "psi"),
            }
        ],
        **changes,
    }


def stretch(**changes: object) -> Json:
    def choice(rod: str, pipe: str, left: float) -> Json:
        return {
            "rod_material": rod,
            "drop_pipe_material": pipe,
            "effective_stroke": quantity(left, "in"),
            "share": left / 9.0,
        }

    return {
        "rod": quantity(0.3, "in"),
        "drop_pipe": quantity(0.6, "in"),
        "effective_stroke": quantity(8.1, "in"),
        "share": 0.9,
        "weep_hole_loss": quantity(0.0, "fl_oz"),
        "choices": [choice("fibreglass", "pvc", 8.1), choice("fibreglass", "stainless_steel", 8.7)],
        **changes,
    }


def sizing(**changes: object) -> Json:
    """A sizing that recommends a cylinder."""
    count = 50
    return {
        "calculation_id": "invented",
        "model_version": "0",
        "scope": "An estimate for planning.",
        "verdict": "fits",
        "summary": "Yes: this works.",
        "catalogue": {"name": "demo", "invented": True, "notice": "Every product here is invented."},
        "candidates": [candidate(), candidate("wide", "does_not_fit", -22.0)],
        "cautions": [caution("notice", "Keep it clean."), caution("danger", "Keep clear of the rod.")],
        "assumptions": [
            {"pointer": "/operator/cadence", "text": "40 strokes per minute", "basis": "common practice"}
        ],
        "questions": [
            {"pointer": "/site/freezes", "text": "Does it freeze?", "why": "Pipes burst.", "effect": "safety"}
        ],
        "recommended": "slim",
        "curve": {
            "pressure": series("psi", *(28.0 + 12.0 * step / (count - 1) for step in range(count))),
            "water": series("gal", *(float(step) for step in range(count))),
            "strokes": series("1", *(25.0 * step for step in range(count))),
            "time": series("min", *(0.5 * step for step in range(count))),
            "hand_force": series("lbf", *(24.0 for _ in range(count))),
            "cadence": series("1/min", *(40.0 for _ in range(count))),
        },
        "inertia": inertia(),
        "stretch": stretch(),
        "sessions": session_plan(),
        "needs": needs(),
        "hookup": hookup(),
        "procedure": steps(),
        "reserve": {
            "summary": "One fill gives 5.2 gal.",
            "findings": [],
            "water": quantity(5.25, "gal"),
            "from_pressure": quantity(40.0, "psi"),
            "to_pressure": quantity(28.0, "psi"),
            "covers": [
                {
                    "code": "flush",
                    "text": "toilet flushes",
                    "count": 3.3,
                    "basis": {"key": "invented", "citation": "invented"},
                }
            ],
        },
        "parts": [
            {"sku": "X-1", "name": "Cylinder", "quantity": 1, "price": 1234.5, "currency": "USD"},
            {"sku": "X-2", "name": "Rod", "quantity": 7, "lead_time_days": 5},
        ],
    } | changes


def problem(status: int, **changes: object) -> Json:
    return {
        "type": "/problems/invented",
        "title": "Invented",
        "status": status,
        "code": "invented",
        "detail": "What happened.",
        "request_id": "r-1",
    } | changes
