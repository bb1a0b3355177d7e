"""Settings come from the environment and are refused by name where they make no sense."""

import os
import re
from ipaddress import ip_network
from pathlib import Path

import pytest
from tests.catalogue.catalogue_text import GOOD
from tests.docs.markdown import read
from tests.service.in_process import start
from tests.service.sites import SITE, changed

from upstroke_service.api.app import create_app
from upstroke_service.catalogue.faults import CatalogueError
from upstroke_service.settings import Settings, SettingsError, from_environment, rows, table, variable


def catalogue_file(folder: Path, name: str = "small") -> Path:
    path = folder / f"{name}.toml"
    path.write_text(GOOD.replace('name = "small"', f'name = "{name}"', 1), "utf-8")
    return path


def test_an_empty_environment_gives_the_defaults() -> None:
    assert from_environment({}) == Settings()


def test_what_is_meant_for_other_programs_is_left_alone() -> None:
    assert from_environment({"PATH": "/bin", "LARGEST_BODY": "nonsense"}) == Settings()


def test_every_setting_is_read_from_its_variable(tmp_path: Path) -> None:
    paths = catalogue_file(tmp_path), catalogue_file(tmp_path, "other")
    stated = {
        "UPSTROKE_CATALOGUES": (os.pathsep.join(map(str, paths)), paths),
        "UPSTROKE_LARGEST_BODY": ("65536", 65_536),
        "UPSTROKE_SLOWEST_BODY": ("5", 5),
        "UPSTROKE_CALCULATIONS_AT_ONCE": ("2", 2),
        "UPSTROKE_MOST_WAITING": ("0", 0),
        "UPSTROKE_LONGEST_WAIT": ("3", 3),
        "UPSTROKE_MOST_OPEN": ("64", 64),
        "UPSTROKE_MOST_BATCHES": ("4", 4),
        "UPSTROKE_LARGEST_BATCH": ("1048576", 1_048_576),
        "UPSTROKE_LONGEST_BATCH": ("600", 600),
        "UPSTROKE_BATCH_PATIENCE": ("5", 5),
        "UPSTROKE_DRAIN_SECONDS": ("0", 0),
        "UPSTROKE_STOP_SECONDS": ("15", 15),
        "UPSTROKE_METRICS_PORT": ("9100", 9_100),
        "UPSTROKE_METRICS_HOST": ("0.0.0.0", "0.0.0.0"),  # noqa: S104 - what a container listens on
        "UPSTROKE_TRACES": ("yes", True),
        "UPSTROKE_LOG_LEVEL": ("Warning", "warning"),
        "UPSTROKE_OPEN": ("yes", True),
        "UPSTROKE_KEYS": (str(paths[0]), paths[0]),
        "UPSTROKE_KEYLESS_SCOPES": ("read, calculate", {"calculate", "read"}),
        "UPSTROKE_TOKEN_KEYS": ("https://login.example.org/keys", "https://login.example.org/keys"),
        "UPSTROKE_TOKEN_ISSUER": ("https://login.example.org", "https://login.example.org"),
        "UPSTROKE_TOKEN_AUDIENCE": (" pumps ", "pumps"),
        "UPSTROKE_TOKEN_ALGORITHMS": ("ES256", {"ES256"}),
        "UPSTROKE_TOKEN_LEEWAY": ("5", 5),
        "UPSTROKE_TOKEN_SCOPE_CLAIM": ("roles", "roles"),
        "UPSTROKE_CORS_ORIGINS": (
            "https://a.example,http://localhost:3000",
            {"https://a.example", "http://localhost:3000"},
        ),
        "UPSTROKE_RATE_LIMIT": ("600/60", (600, 60)),
        "UPSTROKE_KEYLESS_RATE_LIMIT": ("1000000/86400", (1_000_000, 86_400)),
        "UPSTROKE_RATE_STORE": (
            "redis://:secret@store.example:6379/1",
            "redis://:secret@store.example:6379/1",
        ),
        "UPSTROKE_RATE_STORE_PATIENCE": ("100", 100),
        "UPSTROKE_TRUSTED_PROXIES": ("10.0.0.0/8, ::1", (ip_network("10.0.0.0/8"), ip_network("::1"))),
        "UPSTROKE_ONLY_HTTPS_FOR": ("31536000", 31_536_000),
    }
    assert stated.keys() == {variable(name) for name in table()}
    settings = from_environment({name: text for name, (text, _) in stated.items()})

    assert {variable(name): getattr(settings, name) for name in table()} == {
        name: value for name, (_, value) in stated.items()
    }


WRONG = {
    "a file that is not there": ("UPSTROKE_CATALOGUES", "/no/such/file.toml"),
    "a folder for a file": ("UPSTROKE_CATALOGUES", "/"),
    "a size in words": ("UPSTROKE_LARGEST_BODY", "1 MB"),
    "a negative size": ("UPSTROKE_LARGEST_BODY", "-1024"),
    "no size": ("UPSTROKE_LARGEST_BODY", ""),
    "a size too small for a form": ("UPSTROKE_LARGEST_BODY", "1023"),
    "a size too large to hold": ("UPSTROKE_LARGEST_BODY", "16777217"),
    "an unknown level": ("UPSTROKE_LOG_LEVEL", "loud"),
    "neither yes nor no": ("UPSTROKE_OPEN", "1"),
    "a file of keys that is not there": ("UPSTROKE_KEYS", "/no/such/keys.toml"),
    "an unknown scope": ("UPSTROKE_KEYLESS_SCOPES", "read,write"),
    "a key set that anyone could alter": ("UPSTROKE_TOKEN_KEYS", "http://login.example.org/keys"),
    "no issuer": ("UPSTROKE_TOKEN_ISSUER", " "),
    "no audience": ("UPSTROKE_TOKEN_AUDIENCE", ""),
    "an algorithm with a shared secret": ("UPSTROKE_TOKEN_ALGORITHMS", "HS256"),
    "too much leeway": ("UPSTROKE_TOKEN_LEEWAY", "301"),
    "an unnamed claim": ("UPSTROKE_TOKEN_SCOPE_CLAIM", ""),
    "every site": ("UPSTROKE_CORS_ORIGINS", "*"),
    "a quota for nobody": ("UPSTROKE_RATE_LIMIT", "0/60"),
    "a quota for days": ("UPSTROKE_KEYLESS_RATE_LIMIT", "10/86401"),
    "another kind of store": ("UPSTROKE_RATE_STORE", "http://store.example"),
    "no patience": ("UPSTROKE_RATE_STORE_PATIENCE", "9"),
    "a network with a stray bit": ("UPSTROKE_TRUSTED_PROXIES", "10.0.0.1/8"),
    "more than two years": ("UPSTROKE_ONLY_HTTPS_FOR", "63072001"),
}


@pytest.mark.parametrize(
    "origin",
    ["https://a.example/", "HTTPS://a.example", "a.example", "https://*.example", "null", "https://a b"],
)
def test_an_origin_that_no_browser_sends_is_refused(origin: str) -> None:
    with pytest.raises(SettingsError, match="UPSTROKE_CORS_ORIGINS"):
        from_environment({"UPSTROKE_CORS_ORIGINS": origin})


def test_the_password_of_a_store_is_not_repeated() -> None:
    with pytest.raises(SettingsError) as caught:
        from_environment({"UPSTROKE_RATE_STORE": "amqp://:secret@store.example"})
    assert "secret" not in str(caught.value)


def test_keys_over_plain_http_come_from_this_machine_only() -> None:
    assert from_environment({"UPSTROKE_TOKEN_KEYS": "http://127.0.0.1:8000/keys"}).token_keys
    assert from_environment({"UPSTROKE_TOKEN_KEYS": __file__}).token_keys == Path(__file__)


@pytest.mark.parametrize(("variable", "value"), WRONG.values(), ids=WRONG)
def test_a_setting_that_makes_no_sense_is_refused_by_name(variable: str, value: str) -> None:
    with pytest.raises(SettingsError, match=variable):
        from_environment({variable: value})


def test_all_faults_are_reported_at_once() -> None:
    wrong = dict(WRONG.values())
    with pytest.raises(SettingsError) as caught:
        from_environment(wrong)

    lines = str(caught.value).splitlines()
    assert sorted(line.partition(":")[0] for line in lines) == sorted(wrong)


def test_the_table_of_the_readme_is_that_of_the_service() -> None:
    assert read("README.md").table("setting") == [list(row) for row in rows()]


@pytest.mark.parametrize("name", table())
def test_every_limit_that_the_table_shows_is_the_one_that_holds(name: str) -> None:
    """Numbers at the limits are accepted and those beyond refused; every listed word is accepted."""
    words = re.findall(r"`([\w.]+)`", table()[name].kind.says)
    for word in words:
        from_environment({variable(name): word})
    if len(words) == 2 and all(word.isdecimal() for word in words):
        for beyond in (int(words[0]) - 1, int(words[1]) + 1):
            with pytest.raises(SettingsError, match=variable(name)):
                from_environment({variable(name): str(beyond)})


@pytest.mark.parametrize("size", [1_024, 16_777_216])
def test_the_bounds_of_a_size_are_accepted(size: int) -> None:
    assert from_environment({"UPSTROKE_LARGEST_BODY": str(size)}).largest_body == size


def test_the_first_catalogue_is_the_one_that_is_used_where_none_is_named(tmp_path: Path) -> None:
    service = start(catalogues=(catalogue_file(tmp_path, "first"), catalogue_file(tmp_path, "second")))
    listed = {one["name"]: one["default"] for one in service.get("/v1/catalogues").json()["catalogues"]}

    assert listed == {"first": True, "second": False}
    assert service.answer("/v1/sizings", SITE)["catalogue"]["name"] == "first"
    named = service.answer("/v1/sizings", changed({"/selection": {"catalogue": "second"}}))
    assert named["catalogue"]["name"] == "second"


def test_a_catalogue_of_ones_own_replaces_the_demo(tmp_path: Path) -> None:
    service = start(catalogues=(catalogue_file(tmp_path),))

    assert service.get("/v1/catalogues/demo").status_code == 404
    assert service.post("/v1/sizings", changed({"/selection": {"catalogue": "demo"}})).status_code == 422


def test_a_change_of_the_catalogue_is_another_calculation(tmp_path: Path) -> None:
    path = catalogue_file(tmp_path)
    before = start(catalogues=(path,)).answer("/v1/sizings", SITE)
    path.write_text(
        path.read_text("utf-8").replace("A small catalogue", "The same with another title"), "utf-8"
    )
    after = start(catalogues=(path,)).answer("/v1/sizings", SITE)

    assert before.pop("calculation_id") != after.pop("calculation_id")
    assert before == after


def test_a_faulty_catalogue_keeps_the_service_from_starting(tmp_path: Path) -> None:
    path = tmp_path / "faulty.toml"
    path.write_text("name = 5", "utf-8")

    with pytest.raises(CatalogueError):
        create_app(Settings(catalogues=(path,)))
