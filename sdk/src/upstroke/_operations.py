"""The operations of the service: where each is found, what it takes and what it answers."""

from dataclasses import dataclass
from typing import ClassVar, Final, Generic, TypeVar

import msgspec
from msgspec import Struct

from ._batches import BatchPart, read_part
from ._figures import Figure, read_figure
from ._models import (
    CatalogueDetail,
    CatalogueList,
    CautionRequest,
    Cautions,
    DefaultList,
    HandForceQuery,
    Health,
    HookupRequest,
    Hookups,
    LiftBudgetRequest,
    LiftBudgets,
    LiftMarginQuery,
    OperatorList,
    PumpingTimeQuery,
    RecommendedCylinderQuery,
    Sizing,
    SizingRequest,
    StoredPressureQuery,
    StrokeEstimateRequest,
    StrokeEstimates,
    StrokesQuery,
    TankCurve,
    TankCurveRequest,
    TankDrawdownQuery,
    TotalHeadQuery,
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
    media_type: ClassVar = "application/json"

    operation_id: str
    path: str
    answer: type[Answer]

    def read(self, body: bytes) -> Answer:
        """The answer that a reply's body holds.

        Raises:
            ValueError: where it is none; or an error of msgspec.
        """
        return msgspec.json.decode(body, type=self.answer)


@dataclass(frozen=True)
class Calculation(Operation[Answer]):
    """Something to calculate from facts."""

    method: ClassVar = "POST"

    request: type[Struct]


@dataclass(frozen=True)
class Formula(Operation[Figure]):
    """A simple question in an address, answered with one figure and what it rests on."""

    media_type: ClassVar = "text/csv"

    query: type[object]
    word: bool = False
    """Whether the figure is a word."""

    def read(self, body: bytes) -> Figure:
        """The figure that a reply's body holds.

        Raises:
            ValueError: where it is none.
        """
        return read_figure(body, word=self.word)


@dataclass(frozen=True)
class InLines(Calculation[BatchPart]):
    """Many calculations at a time: facts and answers a line each."""

    media_type: ClassVar = "application/x-ndjson"

    def read(self, body: bytes) -> BatchPart:
        """The answers that a reply's body holds.

        Raises:
            MsgspecError: where it holds none.
        """
        return read_part(body)


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
SIZE_PUMPS: Final = InLines("size_pumps", "/v1/sizing-batches", BatchPart, SizingRequest)
LIST_CATALOGUES: Final = Operation("list_catalogues", "/v1/catalogues", CatalogueList)
GET_CATALOGUE: Final = Operation("get_catalogue", "/v1/catalogues/{name}", CatalogueDetail)
LIST_UNITS: Final = Operation("list_units", "/v1/units", UnitList)
LIST_DEFAULTS: Final = Operation("list_defaults", "/v1/defaults", DefaultList)
LIST_OPERATORS: Final = Operation("list_operators", "/v1/operators", OperatorList)
LIST_WATER_USES: Final = Operation("list_water_uses", "/v1/water-uses", WaterUseList)
GET_HAND_FORCE: Final = Formula("get_hand_force", "/v1/formulas/hand-forces", Figure, HandForceQuery)
GET_LIFT_MARGIN: Final = Formula("get_lift_margin", "/v1/formulas/lift-margins", Figure, LiftMarginQuery)
GET_PUMPING_TIME: Final = Formula("get_pumping_time", "/v1/formulas/pumping-times", Figure, PumpingTimeQuery)
GET_RECOMMENDED_CYLINDER: Final = Formula(
    "get_recommended_cylinder",
    "/v1/formulas/recommended-cylinders",
    Figure,
    RecommendedCylinderQuery,
    word=True,
)
GET_STORED_PRESSURE: Final = Formula(
    "get_stored_pressure", "/v1/formulas/stored-pressures", Figure, StoredPressureQuery
)
GET_STROKES: Final = Formula("get_strokes", "/v1/formulas/strokes", Figure, StrokesQuery)
GET_TANK_DRAWDOWN: Final = Formula(
    "get_tank_drawdown", "/v1/formulas/tank-drawdowns", Figure, TankDrawdownQuery
)
GET_TOTAL_HEAD: Final = Formula("get_total_head", "/v1/formulas/total-heads", Figure, TotalHeadQuery)
CHECK_LIVE: Final = Operation("check_live", "/livez", Health)
CHECK_READY: Final = Operation("check_ready", "/readyz", Health)
