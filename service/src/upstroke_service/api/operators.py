"""Reading who pumps: a profile's figures, with what the caller states in their place."""

from typing import Final, NamedTuple

from msgspec import UNSET, UnsetType

from upstroke_service.contract.premises import Operator
from upstroke_service.contract.quantities import Quantity
from upstroke_service.reference.operators import profile
from upstroke_service.sizing import defaults

from .assumed import Reading, block

DEFAULT_PROFILE: Final = str(defaults.table()["/operator/profile"].value)
"""Name of the profile that counts where none is stated."""


class OperatorFacts(NamedTuple):
    """Who pumps, SI.

    ``power`` W is what one person keeps up for a quarter of an hour, ``hand_force_limit`` N the most
    for short work, ``repeated_hand_force`` N what is comfortable, ``cadence`` 1/s preferred. ``people``
    take turns; ``session`` s is the longest that one may take, all turns together.
    """

    power: float
    hand_force_limit: float
    repeated_hand_force: float
    cadence: float
    people: int
    session: float


def read_operator(stated: Operator | UnsetType, reading: Reading) -> OperatorFacts:
    """Who pumps, by the profile but for what is stated; what is not stated is noted as assumed."""
    operator = block(stated, Operator)
    if operator.profile is UNSET:
        reading.assume("/operator/profile")
    figures = profile(DEFAULT_PROFILE if operator.profile is UNSET else operator.profile)

    def chosen(quantity: Quantity | UnsetType, field: str, by_profile: float) -> float:
        own = reading.given(quantity)
        if own is None:
            reading.assume(field, by_profile)
            return by_profile
        return own

    limit = chosen(operator.hand_force_limit, "/operator/hand_force_limit", figures.hand_force_limit.value)
    return OperatorFacts(
        power=chosen(
            operator.sustained_power, "/operator/sustained_power", figures.power_at_fifteen_minutes.value
        ),
        hand_force_limit=limit,
        # What is the most for a moment can't be less than what is comfortable again and again.
        repeated_hand_force=min(limit, figures.repeated_hand_force.value),
        cadence=chosen(operator.cadence, "/operator/cadence", figures.cadence),
        people=int(reading.number(operator.people, "/operator/people")),
        session=chosen(operator.session, "/operator/session", figures.longest_session.value),
    )
