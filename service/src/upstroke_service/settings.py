"""Settings from the environment, in one table that is checked when the service starts.

To add a setting, add a field to Settings with its kind, its meaning and its default, and the same row to the
README's table. Its variable is the field's name in capitals after UPSTROKE_.
"""

import os
import re
from collections.abc import Callable, Mapping
from ipaddress import IPv4Network, IPv6Network, ip_address, ip_network
from pathlib import Path
from typing import Annotated, Any, NamedTuple, get_type_hints
from urllib.parse import urlsplit

import msgspec

from .keys import SCOPES

PREFIX = "UPSTROKE_"


class SettingsError(ValueError):
    """Settings that the service can't start with: a line for each fault, which names the variable."""


class Kind(NamedTuple):
    """What a setting may be. ``read`` raises ValueError saying what would do, without repeating the text."""

    read: Callable[[str], Any]
    says: str
    """How a list of settings puts it."""


class Setting(NamedTuple):
    """What the table says of a setting; ``unset`` names a default that is no value."""

    kind: Kind
    meaning: str
    unset: str = ""


def whole(lowest: int, highest: int) -> Kind:
    """A whole number from ``lowest`` to ``highest``."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdecimal()) or not lowest <= int(text) <= highest:
            raise ValueError(f"must be a whole number from {lowest} to {highest}")
        return int(text)

    return Kind(read, f"whole number from `{lowest}` to `{highest}`")


def choice(*options: str) -> Kind:
    """One of these words, in capitals or not."""

    def read(text: str) -> str:
        if text.lower() not in options:
            raise ValueError(f"must be one of {', '.join(options)}")
        return text.lower()

    return Kind(read, ", ".join(f"`{one}`" for one in options[:-1]) + f" or `{options[-1]}`")


def _read_files(text: str) -> tuple[Path, ...]:
    paths = tuple(Path(part) for part in text.split(os.pathsep) if part)
    missing = [str(path) for path in paths if not path.is_file()]
    if missing:
        raise ValueError(f"there is no file {', '.join(missing)}")
    return paths


FILES = Kind(_read_files, "paths, separated by colons")
"""Files that exist, separated like the folders of PATH."""


def _read_file(text: str) -> Path:
    path = Path(text)
    if not path.is_file():
        raise ValueError(f"there is no file {path}")
    return path


FILE = Kind(_read_file, "path")
"""A file that exists."""


def _read_text(text: str) -> str:
    if not text.strip():
        raise ValueError("must not be empty")
    return text.strip()


TEXT = Kind(_read_text, "text")
"""Any text but none."""


def _read_switch(text: str) -> bool:
    return bool(choice("no", "yes").read(text) == "yes")


SWITCH = Kind(_read_switch, choice("no", "yes").says)
"""Yes or no."""


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


def words(*options: str) -> Kind:
    """Some of these words, separated by commas."""

    def read(text: str) -> frozenset[str]:
        given = frozenset(_parts(text))
        if not given <= set(options):
            raise ValueError(f"must be some of {', '.join(options)}, separated by commas")
        return given

    return Kind(read, f"some of {', '.join(f'`{one}`' for one in options)}, separated by commas")


class Quota(NamedTuple):
    """How many requests a client may make in how many seconds."""

    requests: int
    seconds: int


_MOST_REQUESTS = 1_000_000
_MOST_SECONDS = 86_400


def _read_quota(text: str) -> Quota:
    parts = re.fullmatch(r"([0-9]{1,7})/([0-9]{1,5})", text)
    quota = Quota(int(parts[1]), int(parts[2])) if parts else Quota(0, 0)
    if not (1 <= quota.requests <= _MOST_REQUESTS and 1 <= quota.seconds <= _MOST_SECONDS):
        raise ValueError(
            f"must be requests/seconds, such as 600/60, up to {_MOST_REQUESTS} requests and {_MOST_SECONDS} seconds"
        )
    return quota


QUOTA = Kind(_read_quota, "requests/seconds, such as `600/60`")
"""A number of requests in a number of seconds."""


def _read_origins(text: str) -> frozenset[str]:
    for origin in _parts(text):
        if not re.fullmatch(r"https?://([a-z0-9.-]+|\[[0-9a-f:.]+\])(:[0-9]{1,5})?", origin):
            raise ValueError(
                "must be origins as browsers send them, such as https://www.example.org: in lower case, without a "
                "path or a closing slash"
            )
    return frozenset(_parts(text))


ORIGINS = Kind(_read_origins, "origins such as `https://www.example.org`, separated by commas")
"""Sites, as browsers name them in the header Origin."""

Networks = tuple[IPv4Network | IPv6Network, ...]


def _read_networks(text: str) -> Networks:
    try:
        return tuple(ip_network(part) for part in _parts(text))
    except ValueError as error:
        raise ValueError("must be networks such as 10.0.0.0/8 or fd00::/8, or single addresses") from error


NETWORKS = Kind(_read_networks, "networks such as `10.0.0.0/8`, separated by commas")
"""Networks and single addresses."""


def _read_key_set(text: str) -> str | Path:
    if "://" not in text:
        return _read_file(text)
    address = urlsplit(text)
    host = address.hostname or ""
    # Nobody can alter what comes from this machine itself, such as from a sidecar.
    secure = address.scheme == "https" or (address.scheme == "http" and is_loopback(host))
    if not (secure and host) or address.username or address.fragment:
        raise ValueError("must be a path or an https address")
    return text


KEY_SET = Kind(_read_key_set, "path or https address")
"""A JSON Web Key Set. An http address does where it is on this machine."""


def _read_store(text: str) -> str:
    address = urlsplit(text)
    reachable = address.hostname if address.scheme in {"redis", "rediss"} else address.path
    if address.scheme not in {"redis", "rediss", "unix"} or not reachable:
        # Not repeated in the message: the address may hold a password.
        raise ValueError("must be an address such as redis://store.example.org:6379/0, rediss:// or unix://")
    return text


STORE = Kind(_read_store, "address such as `redis://store.example.org:6379/0`")
"""A store that speaks the Redis protocol."""


def is_loopback(host: str) -> bool:
    """Whether only this machine reaches ``host``."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """The table of settings, and their values in one deployment."""

    catalogues: Annotated[
        tuple[Path, ...],
        Setting(
            FILES,
            "catalogue files; requests that name none use the first",
            unset="the invented demo catalogue",
        ),
    ] = ()
    largest_body: Annotated[int, Setting(whole(1_024, 16_777_216), "bytes that a request body may have")] = (
        262_144
    )
    slowest_body: Annotated[int, Setting(whole(1, 300), "seconds within which a body has to arrive")] = 10
    calculations_at_once: Annotated[
        int, Setting(whole(1, 64), "calculations that a process runs at a time, each on a thread")
    ] = 1
    most_waiting: Annotated[
        int, Setting(whole(0, 10_000), "requests that may wait for a calculation to begin; others get a 503")
    ] = 32
    longest_wait: Annotated[
        int, Setting(whole(1, 60), "seconds that they may wait before they get a 503")
    ] = 2
    most_open: Annotated[
        int, Setting(whole(1, 100_000), "requests that a process deals with at a time; others get a 503")
    ] = 512
    most_batches: Annotated[
        int, Setting(whole(1, 64), "batches that a process answers at a time; others get a 503")
    ] = 2
    largest_batch: Annotated[
        int,
        Setting(
            whole(1_024, 1_099_511_627_776),
            "bytes that the body of a batch may have; each of its lines is a request body",
        ),
    ] = 1_073_741_824
    longest_batch: Annotated[
        int, Setting(whole(1, 86_400), "seconds that a batch may take from its first byte to its last")
    ] = 14_400
    batch_patience: Annotated[
        int,
        Setting(
            whole(1, 3_600), "seconds that a batch waits for its client to send lines or to take answers"
        ),
    ] = 30
    drain_seconds: Annotated[
        int,
        Setting(
            whole(0, 300), "seconds after SIGTERM in which it still answers while `/readyz` already says 503"
        ),
    ] = 2
    stop_seconds: Annotated[
        int, Setting(whole(1, 300), "seconds that running requests then have to finish")
    ] = 30
    metrics_port: Annotated[
        int, Setting(whole(0, 65_535), "port of its own on which Prometheus reads metrics; 0 is none")
    ] = 0
    metrics_host: Annotated[str, Setting(TEXT, "address on which that port listens")] = "127.0.0.1"
    traces: Annotated[
        bool,
        Setting(
            SWITCH, "whether spans go to a collector, as the standard variables `OTEL_*` say", unset="`no`"
        ),
    ] = False
    log_level: Annotated[
        str,
        Setting(choice("debug", "info", "warning", "error"), "what is logged: this and all that is worse"),
    ] = "info"
    open: Annotated[
        bool,
        Setting(
            SWITCH, "whether other machines may use it though neither keys nor tokens are set", unset="`no`"
        ),
    ] = False
    keys: Annotated[Path | None, Setting(FILE, "file of API keys", unset="no keys")] = None
    keyless_scopes: Annotated[
        frozenset[str],
        Setting(words(*SCOPES), "where keys or tokens are needed: what goes without", unset="nothing"),
    ] = frozenset()
    token_keys: Annotated[
        str | Path | None,
        Setting(KEY_SET, "JSON Web Key Set of whoever issues bearer tokens", unset="no tokens"),
    ] = None
    token_issuer: Annotated[str, Setting(TEXT, "claim `iss` of tokens", unset="none")] = ""
    token_audience: Annotated[str, Setting(TEXT, "claim `aud` of tokens", unset="none")] = ""
    token_algorithms: Annotated[
        frozenset[str],
        Setting(
            words("RS256", "PS256", "ES256", "ES384", "EdDSA"),
            "how tokens may be signed",
            unset="`RS256`, `ES256` and `EdDSA`",
        ),
    ] = frozenset({"RS256", "ES256", "EdDSA"})
    token_leeway: Annotated[int, Setting(whole(0, 300), "seconds by which clocks may differ")] = 30
    token_scope_claim: Annotated[
        str,
        Setting(TEXT, "claim that holds the scopes of a token"),
    ] = "scope"  # noqa: S105 - a name
    cors_origins: Annotated[
        frozenset[str],
        Setting(ORIGINS, "sites whose pages may call it from a browser", unset="none"),
    ] = frozenset()
    rate_limit: Annotated[Quota | None, Setting(QUOTA, "quota of each client", unset="unlimited")] = None
    keyless_rate_limit: Annotated[
        Quota | None,
        Setting(QUOTA, "quota of each address that shows no key or token", unset="as `UPSTROKE_RATE_LIMIT`"),
    ] = None
    rate_store: Annotated[
        str,
        Setting(STORE, "store in which replicas count together", unset="each process counts alone"),
    ] = ""
    rate_store_patience: Annotated[
        int, Setting(whole(10, 10_000), "milliseconds that a request waits for that store")
    ] = 250
    trusted_proxies: Annotated[
        Networks,
        Setting(NETWORKS, "proxies whose X-Forwarded-For is believed", unset="none"),
    ] = ()
    only_https_for: Annotated[
        int,
        Setting(
            whole(0, 63_072_000),
            "seconds for which browsers shall use HTTPS alone (Strict-Transport-Security); 0 says nothing",
        ),
    ] = 0


def table() -> dict[str, Setting]:
    """Every setting by the name of its field."""
    hints = get_type_hints(Settings, include_extras=True)
    return {
        name: next(one for one in hints[name].__metadata__ if isinstance(one, Setting))
        for name in Settings.__struct_fields__
    }


def variable(name: str) -> str:
    """The environment variable of the field ``name``."""
    return f"{PREFIX}{name.upper()}"


def from_environment(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings that the environment states, and the defaults of the others.

    Raises SettingsError with every fault at once.
    """
    values: dict[str, Any] = {}
    faults: list[str] = []
    for name, setting in table().items():
        text = environment.get(variable(name))
        if text is None:
            continue
        try:
            values[name] = setting.kind.read(text)
        except ValueError as error:
            faults.append(f"{variable(name)}: {error}")
    if faults:
        raise SettingsError("\n".join(faults))
    return Settings(**values)


def rows() -> list[tuple[str, str, str, str]]:
    """The table as the README shows it: variable, meaning, what it may be, default."""
    defaults = Settings()
    return [
        (
            f"`{variable(name)}`",
            setting.meaning,
            setting.kind.says,
            setting.unset or f"`{getattr(defaults, name)}`",
        )
        for name, setting in table().items()
    ]
