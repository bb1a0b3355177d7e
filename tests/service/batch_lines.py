"""What a line of a batch should say, by the service's full answer to the same facts."""

from typing import Any

Body = dict[str, Any]


def compacted(sizing: Body) -> Body:
    """The compact answer that says what a full one says."""
    compact: Body = {
        "verdict": sizing["verdict"],
        "assumed": [one["pointer"] for one in sizing["assumptions"]],
        "findings": [],
        "cautions": [one["code"] for one in sizing["cautions"]],
    }
    if not sizing["candidates"]:
        return compact
    best = sizing["candidates"][0]
    compact["governed_by"] = best["governed_by"]
    compact["lift_margin"] = best["lift_budget"]["margin"]
    compact["findings"] = [one["code"] for one in best["reasons"]]
    if "recommended" not in sizing:
        return {**compact, "nearest": best["cylinder"]["id"]}
    fill = best["fill"]
    return {
        **compact,
        "recommended": sizing["recommended"],
        "end": fill["end"],
        "strokes": fill["strokes"],
        "time": fill["time"],
        "hand_force": best["effort"]["hand_force"],
        "water": fill["water"],
        "reserve": sizing["reserve"]["water"],
    }
