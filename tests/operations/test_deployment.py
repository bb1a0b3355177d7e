"""What deploys the service is checked by a command, which finds faults where there are some."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from tests.docs.markdown import ROOT

from upstroke_service.settings import Settings, table, variable

DEPLOY = ROOT / "deploy"
FILES = ("Containerfile", "compose.yaml", "kubernetes.yaml", "nginx.conf", "upstroke@.service")


def checked(folder: Path) -> tuple[int, dict[str, str]]:
    """The status of the command, and what it says of each check."""
    done = subprocess.run(  # noqa: S603 - the project's own command
        ["bash", str(folder / "check.sh")],  # noqa: S607 - found as a reader's shell finds it
        env={**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"},
        capture_output=True,
        text=True,
        check=False,
    )
    lines = [re.fullmatch(r"(good|not run|FAULTY) +(.+?)", line) for line in done.stdout.splitlines()]
    return done.returncode, {line[2].split(":")[0] + line[2].split(":")[1]: line[1] for line in lines if line}


def test_nothing_is_faulty_and_what_the_package_index_holds_is_checked() -> None:
    status, said = checked(DEPLOY)

    assert status == 0
    assert "FAULTY" not in said.values()
    assert said["Containerfile hadolint"] == "good"
    assert said["kubernetes.yaml published schemas"] == "good"


@pytest.mark.parametrize(
    ("name", "right", "wrong", "needed"),
    [
        ("Containerfile", "USER 65532:65532", "USER root", "hadolint"),
        ("kubernetes.yaml", "periodSeconds", "periodsSecond", "kubernetes-validate"),
        ("nginx.conf", "least_conn;", "least_connections;", "nginx"),
        ("upstroke@.service", "ProtectHome", "ProtectHouse", "systemd-analyze"),
        ("upstroke@.service", "CapabilityBoundingSet=\n", "", "systemd-analyze"),
    ],
)
def test_a_fault_is_found(tmp_path: Path, name: str, right: str, wrong: str, needed: str) -> None:
    if shutil.which(needed) is None and not (Path(sys.executable).parent / needed).is_file():
        pytest.skip(f"{needed} is not installed")
    for file in (*FILES, "check.sh"):
        shutil.copy(DEPLOY / file, tmp_path)
    file_text = (tmp_path / name).read_text("utf-8")
    assert right in file_text
    (tmp_path / name).write_text(file_text.replace(right, wrong), "utf-8")
    status, said = checked(tmp_path)

    assert status == 1
    assert [one.split()[0] for one, outcome in said.items() if outcome == "FAULTY"] == [name]


def seconds(text: str) -> int:
    return int(text.removesuffix("s"))


def compose() -> dict[str, Any]:
    described: dict[str, Any] = yaml.safe_load((DEPLOY / "compose.yaml").read_text("utf-8"))
    return described


def pods() -> dict[str, Any]:
    (found,) = [
        one
        for one in yaml.safe_load_all((DEPLOY / "kubernetes.yaml").read_text("utf-8"))
        if one["kind"] == "Deployment"
    ]
    pod: dict[str, Any] = found["spec"]["template"]["spec"]
    return pod


@pytest.mark.parametrize("name", FILES)
def test_every_setting_that_is_named_exists(name: str) -> None:
    named = set(re.findall(r"UPSTROKE_[A-Z_]+", (DEPLOY / name).read_text("utf-8")))

    assert named <= {variable(one) for one in table()}


def test_whoever_ends_a_process_waits_longer_than_it_may_take() -> None:
    """Otherwise requests that were accepted would be cut off."""
    drain = int(re.findall(r"UPSTROKE_DRAIN_SECONDS=(\d+)", (DEPLOY / "Containerfile").read_text("utf-8"))[0])
    longest = drain + Settings().stop_seconds
    unit = (DEPLOY / "upstroke@.service").read_text("utf-8")

    assert pods()["terminationGracePeriodSeconds"] > longest
    assert seconds(compose()["x-upstroke"]["stop_grace_period"]) > longest
    assert int(re.findall(r"TimeoutStopSec=(\d+)", unit)[0]) > longest


def test_readiness_is_noticed_before_the_process_stops_accepting() -> None:
    (container,) = pods()["containers"]
    probe = container["readinessProbe"]
    drain = next(one["value"] for one in container["env"] if one["name"] == "UPSTROKE_DRAIN_SECONDS")

    assert int(drain) > 2 * probe["periodSeconds"] * probe["failureThreshold"]


def test_every_container_runs_unprivileged_on_a_root_file_system_that_it_cannot_write() -> None:
    services = compose()["services"]
    (container,) = pods()["containers"]

    assert len([name for name in services if name.startswith("upstroke")]) == 2
    for service in services.values():
        assert service["read_only"] is True
        assert service["cap_drop"] == ["ALL"]
        assert "no-new-privileges:true" in service["security_opt"]
    assert container["securityContext"]["readOnlyRootFilesystem"] is True
    assert pods()["securityContext"]["runAsNonRoot"] is True
    assert re.search(r"^USER \d+:\d+$", (DEPLOY / "Containerfile").read_text("utf-8"), re.MULTILINE)
