"""API keys: what the file may hold, which keys are valid, and the command that makes them."""

import hashlib
import hmac
import re
import subprocess
import sys
from datetime import UTC, datetime, timedelta

import pytest
from tests.docs.markdown import read

from upstroke_service import keys
from upstroke_service.keys import Key, listing, new_key, read_keys, valid_key

NOW = datetime(2030, 6, 1, tzinfo=UTC)


def key_of(secret: str, **fields: object) -> Key:
    stated = {"id": secret, "client": "example", "scopes": ["read"], **fields}
    return Key(sha256=hashlib.sha256(secret.encode()).hexdigest(), **stated)  # type: ignore[arg-type]


def test_a_listed_key_is_valid() -> None:
    first, second = key_of("first"), key_of("second")
    assert valid_key([first, second], b"first", NOW) is first
    assert valid_key([first, second], b"second", NOW) is second


@pytest.mark.parametrize(
    "presented",
    [b"", b"firs", b"first ", b"FIRST", b"\xff\xfe", hashlib.sha256(b"first").hexdigest().encode()],
)
def test_anything_else_is_not(presented: bytes) -> None:
    assert valid_key([key_of("first")], presented, NOW) is None


def test_a_revoked_key_is_not() -> None:
    assert valid_key([key_of("first", revoked=True)], b"first", NOW) is None


def test_a_key_ends_at_the_moment_stated() -> None:
    ends = key_of("first", expires=NOW)
    assert valid_key([ends], b"first", NOW - timedelta(microseconds=1)) is ends
    assert valid_key([ends], b"first", NOW) is None


@pytest.mark.parametrize("presented", [b"first", b"last", b"revoked", b"unknown"])
def test_every_key_is_compared_whatever_is_presented(
    presented: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    compared: list[str] = []

    def counting(one: str, other: str) -> bool:
        compared.append(one)
        return hmac.compare_digest(one, other)

    monkeypatch.setattr(keys, "hmac", type("Counted", (), {"compare_digest": staticmethod(counting)}))
    listed = [key_of("first"), key_of("revoked", revoked=True), key_of("last")]
    valid_key(listed, presented, NOW)
    assert compared == [key.sha256 for key in listed]


DIGEST = "0" * 64
FAULTY = {
    "no TOML": ("keys = [", "end of document"),
    "no keys": ("", "keys"),
    "another field": (f'[[keys]]\nid="a"\nclient="a"\nsha256="{DIGEST}"\nscopes=[]\nnote="x"', "note"),
    "the key itself": ('[[keys]]\nid="a"\nclient="a"\nkey="secret"\nscopes=[]', "key"),
    "a digest too short": ('[[keys]]\nid="a"\nclient="a"\nsha256="00"\nscopes=[]', "sha256"),
    "an unknown scope": (f'[[keys]]\nid="a"\nclient="a"\nsha256="{DIGEST}"\nscopes=["admin"]', "admin"),
    "an end without an offset": (
        f'[[keys]]\nid="a"\nclient="a"\nsha256="{DIGEST}"\nscopes=[]\nexpires=2030-01-01T00:00:00',
        "expires",
    ),
    "one key twice": (
        "".join(f'[[keys]]\nid="{one}"\nclient="a"\nsha256="{DIGEST}"\nscopes=[]\n' for one in "ab"),
        "sha256",
    ),
    "one id twice": (
        "".join(f'[[keys]]\nid="a"\nclient="a"\nsha256="{one * 64}"\nscopes=[]\n' for one in "01"),
        "id",
    ),
}


@pytest.mark.parametrize(("text", "named"), FAULTY.values(), ids=FAULTY)
def test_a_faulty_file_is_refused_and_told_why(text: str, named: str) -> None:
    with pytest.raises(ValueError, match=re.escape(named)):
        read_keys(text.encode())


def test_a_file_that_is_no_text_is_refused() -> None:
    with pytest.raises(ValueError, match=r"(?i)utf-8"):
        read_keys(b"\xff\xfe\x00")


def test_new_keys_differ_and_hold_256_random_bits() -> None:
    made = {new_key() for _ in range(100)}
    assert len(made) == 100
    assert all(re.fullmatch(r"upstroke_[A-Za-z0-9_-]{43}", key) for key in made)


def test_the_listing_of_a_key_is_one_that_the_file_takes() -> None:
    key = new_key()
    end = datetime(2031, 1, 1, tzinfo=UTC)
    (read,) = read_keys(listing(key, "example", ["calculate"], end, NOW).encode())

    assert valid_key([read], key.encode(), NOW) is read
    assert (read.client, read.scopes, read.expires, read.revoked) == ("example", ["calculate"], end, False)
    assert key not in listing(key, "example", ["calculate"], end, NOW)


def command(*arguments: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(  # noqa: S603 - the command under test
        [sys.executable, "-m", "upstroke_service.keys", *arguments],
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_command_prints_a_key_and_its_lines() -> None:
    printed = command("--client", "example-dealer", "--scopes", "read", "--expires", "2099-12-31").stdout
    (key,) = re.findall(r"^upstroke_\S+$", printed, re.MULTILINE)
    (read,) = read_keys(printed[printed.index("[[keys]]") :].encode())

    assert printed.count(key) == 1
    assert valid_key([read], key.encode(), NOW) is read
    assert read.scopes == ["read"]


@pytest.mark.parametrize(
    "arguments",
    [(), ("--client", 'a"b'), ("--client", "a", "--scopes", "all"), ("--client", "a", "--expires", "soon")],
)
def test_the_command_refuses_what_the_file_would_not_take(arguments: tuple[str, ...]) -> None:
    done = command(*arguments)
    assert done.returncode == 2
    assert "upstroke_" not in done.stdout


def test_what_the_readme_shows_is_what_the_command_prints() -> None:
    blocks = [block for block in read("README.md").blocks if "sha256" in block.text or ".keys" in block.text]
    asked, shown = (block.text for block in blocks)
    printed = command(*asked.split("upstroke_service.keys")[1].split()).stdout
    (listed,) = read_keys(shown.encode())
    (made,) = read_keys(printed[printed.index("[[keys]]") :].encode())

    assert (listed.client, listed.scopes, listed.expires) == (made.client, made.scopes, made.expires)
    assert re.sub(r"\d", "0", listed.id) == re.sub(r"\d", "0", made.id)
