"""The synchronous client: one method per operation of the service."""

import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from os import PathLike
from types import TracebackType
from typing import Self, Unpack

from . import _configuration as configuration
from ._batches import Batch, BatchLine, Detail
from ._caller import Caller
from ._errors import TransportError
from ._exchange import (
    Call,
    Form,
    Paper,
    Reply,
    Units,
    answer,
    calculation,
    lines,
    part,
    printed,
    printing,
    question,
    reading,
)
from ._facts import Facts
from ._figures import Figure
from ._models import (
    CatalogueDetail,
    CatalogueList,
    CautionFacts,
    CautionRequest,
    Cautions,
    DefaultList,
    HandForceQuery,
    Health,
    HookupFacts,
    HookupRequest,
    Hookups,
    LiftBudgetFacts,
    LiftBudgetRequest,
    LiftBudgets,
    LiftMarginQuery,
    OperatorList,
    PumpingTimeQuery,
    RecommendedCylinderQuery,
    Sizing,
    SizingFacts,
    SizingRequest,
    StoredPressureQuery,
    StrokeEstimateFacts,
    StrokeEstimateRequest,
    StrokeEstimates,
    StrokesQuery,
    TankCurve,
    TankCurveFacts,
    TankCurveRequest,
    TankDrawdownQuery,
    TotalHeadQuery,
    UnitList,
    WaterNeedFacts,
    WaterNeedRequest,
    WaterNeeds,
    WaterUseList,
)
from ._operations import (
    ADVISE_HOOKUPS,
    CHECK_LIVE,
    CHECK_READY,
    COMPUTE_LIFT_BUDGETS,
    COMPUTE_TANK_CURVE,
    ESTIMATE_STROKES,
    ESTIMATE_WATER_NEEDS,
    GET_CATALOGUE,
    GET_HAND_FORCE,
    GET_LIFT_MARGIN,
    GET_PUMPING_TIME,
    GET_RECOMMENDED_CYLINDER,
    GET_STORED_PRESSURE,
    GET_STROKES,
    GET_TANK_DRAWDOWN,
    GET_TOTAL_HEAD,
    LIST_CATALOGUES,
    LIST_CAUTIONS,
    LIST_DEFAULTS,
    LIST_OPERATORS,
    LIST_UNITS,
    LIST_WATER_USES,
    SIZE_PUMP,
    SIZE_PUMPS,
    Answer,
    Calculation,
    Formula,
    Operation,
)
from ._transport import Transport


class Client:
    """Talks to one service; a context manager that closes its connections at the end.

    Every calculation takes its facts as a request struct, as a mapping such as parsed JSON, as keyword
    arguments, or as a mix in which keyword arguments replace the request's fields. Every method raises an
    UpstrokeError where no answer can be had.
    """

    def __init__(
        self,
        base_url: str | None = None,
        *,
        api_key: str | None = None,
        units: Units = "us",
        language: str | None = None,
        timeout: float | None = None,
        retries: int = 2,
        transport: Transport | None = None,
    ) -> None:
        """Prepare a client; nothing is sent yet.

        Args:
            base_url: address of the service; where it is None, what the environment variable UPSTROKE_URL
                holds, or else http://127.0.0.1:8080.
            api_key: key or token that the service asks for; where it is None, what the environment variable
                UPSTROKE_API_KEY holds, if anything. It is sent with every call and shown nowhere.
            units: unit system of the answers, unless a call says otherwise.
            language: language of the sentences, such as 'en' or 'es'; where it is None, what the environment
                variable UPSTROKE_LANGUAGE holds, or else the service's own.
            timeout: seconds that each step of a call may take, such as connecting or waiting for bytes; where
                it is None, what the environment variable UPSTROKE_TIMEOUT holds, or else 10.
            retries: how often a call is repeated where nobody answers or the service is busy.
            transport: what carries the calls, in place of HTTP to ``base_url``.

        Raises:
            ValueError: where one of these can't be used.
        """
        self._caller = Caller(configuration.key(api_key), configuration.language(language), retries)
        if transport is None:
            # Imported here because httpx takes longer to import than all the rest together.
            from ._httpx import HttpxTransport  # noqa: PLC0415

            transport = HttpxTransport(
                configuration.address(base_url), timeout=configuration.timeout(timeout)
            )
        self._transport = transport
        self._units: Units = units

    @classmethod
    def embedded(
        cls,
        *,
        catalogues: Sequence[str | PathLike[str]] = (),
        units: Units = "us",
        language: str | None = None,
    ) -> Self:
        """A client of a service in this very process: nothing has to run, and the answers are the same.

        It takes the package upstroke-service, and some seconds to start.

        Args:
            catalogues: catalogue files, the first of which is the default; without any, the service's invented
                demo catalogue.
            units: unit system of the answers, unless a call says otherwise.
            language: language of the sentences, as of any client.

        Raises:
            UpstrokeError: where the service is not installed or a catalogue can't be used.
        """
        from ._embedded import InProcess  # noqa: PLC0415 - few need it, and it takes long to import

        return cls(api_key="", units=units, language=language, transport=InProcess(catalogues))

    def __enter__(self) -> Self:
        """The client itself."""
        return self

    def __exit__(
        self,
        error_type: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        """Close the connections."""
        self.close()

    def close(self) -> None:
        """Close the connections; the client is of no more use."""
        self._transport.close()

    def size(
        self,
        request: SizingRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[SizingFacts],
    ) -> Sizing:
        """The whole job: every cylinder assessed, ranked and explained, and one recommended if any fits."""
        return self._calculate(SIZE_PUMP, request, facts, units)

    def size_many(
        self,
        requests: Iterable[SizingRequest | Mapping[str, object]],
        /,
        *,
        units: Units | None = None,
        detail: Detail = "compact",
        defaults: SizingRequest | Mapping[str, object] | None = None,
        start_after: int = 0,
        progress: Callable[[int], None] | None = None,
    ) -> Iterator[BatchLine]:
        """Size many pumps: what became of each request, in order, while the next are still being taken.

        A request that is refused, by the service or before it is sent, gives a line with its problem; the others
        go on. Nothing is taken or sent until the first line is asked for, and then so many requests at a time.

        Args:
            requests: the facts of each pump; they may come from a generator, however many they are.
            units: unit system of the answers, where not the client's own.
            detail: 'compact' for figures and codes of the best cylinder, 'full' for what ``size`` answers.
            defaults: facts that hold wherever a request leaves them out, block by block and field by field.
            start_after: number of requests to pass over, because their answers are there from a former run. Lines
                are numbered from 1 for the first request of all.
            progress: called with the number of requests answered so far, each time that some have been.
        """
        batch = Batch(requests, defaults, detail, start_after)
        while (body := batch.next_body()) is not None:
            call = lines(SIZE_PUMPS, body, units or self._units, detail)
            yield from batch.take(part(SIZE_PUMPS, self._send(call)))
            if progress is not None:
                progress(batch.answered)

    def report(
        self,
        request: SizingRequest | Mapping[str, object] | None = None,
        /,
        *,
        form: Form = "pdf",
        paper: Paper | None = None,
        units: Units | None = None,
        **facts: Unpack[SizingFacts],
    ) -> bytes:
        """The same as a document to print, as 'pdf' or 'html', on 'letter' or 'a4'."""
        call = printing(SIZE_PUMP, request, facts, units or self._units, form, paper)
        return printed(self._send(call))

    def lift_budgets(
        self,
        request: LiftBudgetRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[LiftBudgetFacts],
    ) -> LiftBudgets:
        """The total dynamic head line by line, against the rated lift of each cylinder."""
        return self._calculate(COMPUTE_LIFT_BUDGETS, request, facts, units)

    def tank_curve(
        self,
        request: TankCurveRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[TankCurveFacts],
    ) -> TankCurve:
        """How much water the tank holds at each pressure."""
        return self._calculate(COMPUTE_TANK_CURVE, request, facts, units)

    def stroke_estimates(
        self,
        request: StrokeEstimateRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[StrokeEstimateFacts],
    ) -> StrokeEstimates:
        """Strokes, minutes, work and hand force of a fill, and the practical ceiling of each cylinder."""
        return self._calculate(ESTIMATE_STROKES, request, facts, units)

    def water_needs(
        self,
        request: WaterNeedRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[WaterNeedFacts],
    ) -> WaterNeeds:
        """What people, uses and animals need every day, what one fill gives, and how much pumping that is."""
        return self._calculate(ESTIMATE_WATER_NEEDS, request, facts, units)

    def hookups(
        self,
        request: HookupRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[HookupFacts],
    ) -> Hookups:
        """The ways to connect the pump, best first, with their steps; and those that must not be used."""
        return self._calculate(ADVISE_HOOKUPS, request, facts, units)

    def cautions(
        self,
        request: CautionRequest | Mapping[str, object] | None = None,
        /,
        *,
        units: Units | None = None,
        **facts: Unpack[CautionFacts],
    ) -> Cautions:
        """What could hurt someone or break something at this site, worst first."""
        return self._calculate(LIST_CAUTIONS, request, facts, units)

    def total_head(self, *, units: Units | None = None, **facts: Unpack[TotalHeadQuery]) -> Figure:
        """The total dynamic head: how high the water must go, friction and target pressure counted as height."""
        return self._ask(GET_TOTAL_HEAD, facts, units)

    def lift_margin(self, *, units: Units | None = None, **facts: Unpack[LiftMarginQuery]) -> Figure:
        """The cylinder's rated lift less the total dynamic head; negative where it is too much for the cylinder."""
        return self._ask(GET_LIFT_MARGIN, facts, units)

    def strokes(self, *, units: Units | None = None, **facts: Unpack[StrokesQuery]) -> Figure:
        """Full cycles of the handle from start to target."""
        return self._ask(GET_STROKES, facts, units)

    def pumping_time(self, *, units: Units | None = None, **facts: Unpack[PumpingTimeQuery]) -> Figure:
        """Minutes from start to target, rests included."""
        return self._ask(GET_PUMPING_TIME, facts, units)

    def hand_force(self, *, units: Units | None = None, **facts: Unpack[HandForceQuery]) -> Figure:
        """Peak force at the grip at the target pressure."""
        return self._ask(GET_HAND_FORCE, facts, units)

    def tank_drawdown(self, *, units: Units | None = None, **facts: Unpack[TankDrawdownQuery]) -> Figure:
        """Water that the tank gives between the start and the target pressure."""
        return self._ask(GET_TANK_DRAWDOWN, facts, units)

    def stored_pressure(self, *, units: Units | None = None, **facts: Unpack[StoredPressureQuery]) -> Figure:
        """Gauge pressure at which the tank holds so much water."""
        return self._ask(GET_STORED_PRESSURE, facts, units)

    def recommended_cylinder(
        self, *, units: Units | None = None, **facts: Unpack[RecommendedCylinderQuery]
    ) -> Figure:
        """Id of the cylinder that a sizing recommends, with the cautions that belong to it."""
        return self._ask(GET_RECOMMENDED_CYLINDER, facts, units)

    def catalogues(self) -> CatalogueList:
        """The catalogues that the service offers."""
        return self._read(LIST_CATALOGUES)

    def catalogue(self, name: str, /, *, units: Units | None = None) -> CatalogueDetail:
        """A catalogue with its cylinders.

        Raises:
            NotFoundError: where the service has none of this name.
        """
        return self._read(GET_CATALOGUE, units or self._units, name=name)

    def units(self) -> UnitList:
        """The accepted units with their factors, the bounds of inputs, and the units of answers."""
        return self._read(LIST_UNITS)

    def defaults(self, *, units: Units | None = None) -> DefaultList:
        """What is assumed where a fact is left out."""
        return self._read(LIST_DEFAULTS, units or self._units)

    def operators(self, *, units: Units | None = None) -> OperatorList:
        """What each profile of the people who pump stands for, and what its figures rest on."""
        return self._read(LIST_OPERATORS, units or self._units)

    def water_uses(self, *, units: Units | None = None) -> WaterUseList:
        """The published figures of how much water uses, people and animals take."""
        return self._read(LIST_WATER_USES, units or self._units)

    def live(self) -> Health:
        """Whether the service runs; asked once, without patience."""
        return answer(CHECK_LIVE, self._send(reading(CHECK_LIVE), once=True))

    def ready(self) -> Health:
        """Whether the service takes work; asked once, without patience.

        Raises:
            ServiceUnavailableError: where it doesn't yet or doesn't any more.
        """
        return answer(CHECK_READY, self._send(reading(CHECK_READY), once=True))

    def _calculate(
        self,
        operation: Calculation[Answer],
        request: Facts | None,
        facts: Mapping[str, object],
        units: Units | None,
    ) -> Answer:
        call = calculation(operation, request, facts, units or self._units)
        return answer(operation, self._send(call))

    def _ask(self, operation: Formula, facts: Mapping[str, object], units: Units | None) -> Figure:
        return answer(operation, self._send(question(operation, facts, units or self._units)))

    def _read(self, operation: Operation[Answer], units: Units | None = None, **path_values: str) -> Answer:
        return answer(operation, self._send(reading(operation, units, **path_values)))

    def _send(self, call: Call, *, once: bool = False) -> Reply:
        exchange = self._caller.begin(call, once=once)
        while True:
            outcome: Reply | TransportError
            try:
                outcome = self._transport.send(exchange.call)
            except TransportError as error:
                outcome = error
            wait = exchange.wait_after(outcome)
            if wait is None:
                return exchange.reply(outcome)
            time.sleep(wait)
