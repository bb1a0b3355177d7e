"""What the package shows to its users, and what importing it drags in."""

import inspect
import subprocess
import sys
import tomllib
from importlib import resources

from tests.sdk.contract_document import ROOT

import upstroke
from upstroke._version import VERSION

NOT_IMPORTED = {
    "asyncio",
    "email",
    "httpx",
    "litestar",
    "matplotlib",
    "numpy",
    "pandas",
    "pint",
    "upstroke_service",
}

# Modules of their own, which users import by name.
COMMANDS_AND_EXTRAS = {"ask", "plots", "quickstart", "sheets"}

# A change here is a change for users: note it in the changelog.
PUBLIC = [
    "ApiError",
    "Assumption",
    "AsyncClient",
    "AsyncTransport",
    "BatchLine",
    "Call",
    "Candidate",
    "CatalogueDetail",
    "CatalogueList",
    "CatalogueSummary",
    "CatalogueUsed",
    "Caution",
    "CautionRequest",
    "Cautions",
    "Ceiling",
    "Client",
    "CompactSizing",
    "Conduit",
    "Connection",
    "ConstantPressure",
    "Cylinder",
    "CylinderListing",
    "CylinderRef",
    "DailyNeeds",
    "DefaultEntry",
    "DefaultList",
    "DepthTable",
    "Detail",
    "DimensionEntry",
    "DropPipe",
    "Effort",
    "ElectricPump",
    "FactError",
    "Figure",
    "FigureBasis",
    "FigureLine",
    "FillColumns",
    "FillTotals",
    "Finding",
    "Fitting",
    "ForbiddenError",
    "GasBand",
    "Health",
    "Herd",
    "HookupPart",
    "HookupPlan",
    "HookupPoint",
    "HookupRequest",
    "HookupStep",
    "HookupTask",
    "HookupWay",
    "Hookups",
    "Inertia",
    "InputEntry",
    "InvalidRequestError",
    "LiftBudget",
    "LiftBudgetEntry",
    "LiftBudgetRequest",
    "LiftBudgets",
    "Limit",
    "MaterialChoice",
    "NeedEntry",
    "NeedFigure",
    "NeedLine",
    "Needs",
    "NotFoundError",
    "Operator",
    "OperatorEntry",
    "OperatorList",
    "OutputEntry",
    "Part",
    "Premises",
    "PressureSwitch",
    "Pressures",
    "Problem",
    "ProblemError",
    "Pump",
    "Quantity",
    "QuantityInput",
    "Question",
    "RateLimitedError",
    "RefusedHookup",
    "RefusedLine",
    "ReliefValve",
    "Remedy",
    "Reply",
    "RequestTimeoutError",
    "Reserve",
    "Rod",
    "Run",
    "Selection",
    "Series",
    "ServiceUnavailableError",
    "SessionColumns",
    "SessionPlan",
    "SizedLine",
    "SizedLineInFull",
    "Sizing",
    "SizingRequest",
    "Source",
    "Stretch",
    "StrokeEstimate",
    "StrokeEstimateRequest",
    "StrokeEstimates",
    "SuctionHead",
    "Tank",
    "TankColumns",
    "TankCurve",
    "TankCurveRequest",
    "Transport",
    "TransportError",
    "UnauthenticatedError",
    "UnexpectedResponseError",
    "UnitEntry",
    "UnitList",
    "Units",
    "UpstrokeError",
    "Use",
    "UseCount",
    "UseEntry",
    "WaterNeedRequest",
    "WaterNeeds",
    "WaterUseList",
    "WeepHole",
    "Well",
]


def test_the_public_names_are_those_that_users_rely_on_in_order() -> None:
    assert upstroke.__all__ == PUBLIC
    assert sorted(upstroke.__all__) == upstroke.__all__
    assert all(hasattr(upstroke, name) for name in upstroke.__all__)


def test_nothing_public_is_left_out() -> None:
    visible = {name for name in vars(upstroke) if not name.startswith("_")} - COMMANDS_AND_EXTRAS

    assert visible == set(upstroke.__all__)


def test_importing_it_imports_nothing_heavy() -> None:
    command = "import sys, upstroke; print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", command], capture_output=True, text=True, check=True)  # noqa: S603

    assert "msgspec" in done.stdout.split()
    assert NOT_IMPORTED.isdisjoint(done.stdout.split())


def test_the_package_says_that_it_is_typed() -> None:
    assert resources.files(upstroke).joinpath("py.typed").is_file()


def test_both_clients_have_the_same_methods_with_the_same_facts_and_descriptions() -> None:
    def surface(client: type) -> dict[str, tuple[str, str | None]]:
        named = {"__aenter__": "__enter__", "__aexit__": "__exit__"}
        members = inspect.getmembers(client, lambda one: inspect.isroutine(one) or inspect.ismethod(one))
        return {
            named.get(name, name): (
                str(inspect.signature(member))
                .replace("AsyncTransport", "Transport")
                .replace("AsyncIterator", "Iterator"),
                member.__doc__,
            )
            for name, member in members
            if name in {"__init__", *named, *named.values()} or not name.startswith("_")
        }

    assert surface(upstroke.AsyncClient) == surface(upstroke.Client)
    assert all(
        inspect.iscoroutinefunction(member) or inspect.isasyncgenfunction(member)
        for name, member in inspect.getmembers(upstroke.AsyncClient, inspect.isfunction)
        if not name.startswith("_")
    )


def test_the_version_is_the_package_s() -> None:
    package = tomllib.loads((ROOT / "sdk/pyproject.toml").read_text())["project"]

    assert package["version"] == VERSION
