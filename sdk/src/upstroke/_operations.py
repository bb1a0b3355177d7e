"""The operations of the service: where each is found, what it takes and what it answers."""

from dataclasses import dataclass
from typing import ClassVar, Final, Generic, TypeVar

from msgspec import Struct

from ._models import (
    CatalogueDetail,
    CatalogueList,
    CautionRequest,
    Cautions,
    DefaultList,
    Health,
    HookupRequest,
    Hookups,
    LiftBudgetRequest,
    LiftBudgets,
    OperatorList,
    Sizing,
    SizingRequest,
    StrokeEstimateRequest,
    StrokeEstimates,
    TankCurve,
    TankCurveRequest,
    UnitList,
    WaterNeedRequest,
    WaterNeeds,
    WaterUseList,
)

Answer = TypeVar("Answer", bound=Struct)


@dataclass(frozen=True)
class Operation(Generic[Answer]):
    """Something to look up. Every operation is pure, so that it can be repeated without harm."""

    method: ClassVar = "GET"

    operation_id: str
    path: str
    answer: type[Answer]


@dataclass(frozen=True)
class Calculation(Operation[Answer]):
    """Something to calculate from facts."""

    method: ClassVar = "POST"

    request: type[Struct]


ADVISE_HOOKUPS: Final = Calculation("advise_hookups", "/v1/hookups", Hookups, HookupRequest)
COMPUTE_LIFT_BUDGETS: Final = Calculation(
    "compute_lift_budgets", "/v1/lift-budgets", LiftBudgets, LiftBudgetRequest
)
COMPUTE_TANK_CURVE: Final = Calculation("compute_tank_curve", "/v1/tank-curves", TankCurve, TankCurveRequest)
ESTIMATE_STROKES: Final = Calculation(
    "estimate_strokes", "/v1/stroke-estimates", StrokeEstimates, StrokeEstimateRequest
)
ESTIMATE_WATER_NEEDS: Final = Calculation(
    "estimate_water_needs", "/v1/water-needs", WaterNeeds, WaterNeedRequest
)
LIST_CAUTIONS: Final = Calculation("list_cautions", "/v1/cautions", Cautions, CautionRequest)
SIZE_PUMP: Final = Calculation("size_pump", "/v1/sizings", Sizing, SizingRequest)
LIST_CATALOGUES: Final = Operation("list_catalogues", "/v1/catalogues", CatalogueList)
GET_CATALOGUE: Final = Operation("get_catalogue", "/v1/catalogues/{name}", CatalogueDetail)
LIST_UNITS: Final = Operation("list_units", "/v1/units", UnitList)
LIST_DEFAULTS: Final = Operation("list_defaults", "/v1/defaults", DefaultList)
LIST_OPERATORS: Final = Operation("list_operators", "/v1/operators", OperatorList)
LIST_WATER_USES: Final = Operation("list_water_uses", "/v1/water-uses", WaterUseList)
CHECK_LIVE: Final = Operation("check_live", "/livez", Health)
CHECK_READY: Final = Operation("check_ready", "/readyz", Health)
