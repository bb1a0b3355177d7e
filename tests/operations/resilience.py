"""Kill and restart the service's processes one at a time under load, and count what clients notice of it.

    python -m tests.operations.resilience [--restarts 12] [--clients 8]

Two processes run behind nginx as deploy/nginx.conf sets it up, counting quotas together in a store. A client
sends a failed request once more, as the SDK does. Every answer is compared with the one that a process gave at rest.
"""

import argparse
import asyncio
import itertools
import json
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import httpx
from tests.access.stores import NEEDED as STORE_NEEDED
from tests.access.stores import PROGRAM as STORE
from tests.access.stores import Store
from tests.docs.markdown import ROOT
from tests.operations.processes import Process, free_port

from upstroke_service.api.operation import quotes

NGINX = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")
PATIENCE = 30.0
RETRIED = {429, 502, 503, 504}
PAUSE = 1.0
"""Seconds before a client sends a request again, as Retry-After says."""
QUOTA = 1_000_000
_ENDS = ((0, signal.SIGKILL), (1, signal.SIGTERM), (1, signal.SIGKILL), (0, signal.SIGTERM))


def missing() -> str:
    """What has to be installed for this, or nothing."""
    if not NGINX:
        return "needs nginx, as from: apt-get install nginx-light"
    return "" if STORE else STORE_NEEDED


@dataclass
class Figures:
    """What came of it."""

    answered: int = 0
    retried: Counter[str] = field(default_factory=Counter)
    failed: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    milliseconds: list[float] = field(default_factory=list)
    ended: Counter[str] = field(default_factory=Counter)
    counted: int = 0

    def report(self, seconds: float) -> str:
        """The figures in words."""
        ranked = sorted(self.milliseconds)

        def share(part: float) -> float:
            return ranked[min(len(ranked) - 1, int(part * len(ranked)))]

        retried = ", ".join(f"{reason} {count}" for reason, count in self.retried.items()) or "none"
        return "\n".join(
            [
                f"requests answered            {self.answered} in {seconds:.0f} s",
                f"processes killed             {self.ended['SIGKILL']} (SIGKILL)",
                f"processes told to end        {self.ended['SIGTERM']} (SIGTERM)",
                f"sent once more               {sum(self.retried.values())} ({retried})",
                f"failed even so               {len(self.failed)}",
                f"answered wrongly             {len(self.wrong)}",
                f"counted together             {self.counted} of {self.answered}",
                f"milliseconds, half within    {share(0.5):.0f}; 99 % {share(0.99):.0f}; all {ranked[-1]:.0f}",
            ]
        )


@contextmanager
def proxy(folder: Path, ports: tuple[int, int]) -> Iterator[str]:
    """nginx before these ports, as it would be deployed; yields its address."""
    assert NGINX
    port = free_port()
    text = (ROOT / "deploy/nginx.conf").read_text("utf-8")
    for name, one in zip("ab", ports, strict=True):
        text = text.replace(f"upstroke-{name}:8080", f"127.0.0.1:{one}")
    text = text.replace("listen 8080;", f"listen 127.0.0.1:{port};").replace("/tmp/", f"{folder}/")  # noqa: S108
    configuration = folder / "nginx.conf"
    configuration.write_text(text, "utf-8")
    folder.chmod(0o755)  # where started by root, its workers are nobody's
    command = [NGINX, "-c", str(configuration), "-e", str(folder / "nginx.log"), "-g", "daemon off;"]
    with (
        (folder / "nginx.errors").open("wb") as errors,
        subprocess.Popen(command, stderr=errors) as process,  # noqa: S603
    ):
        try:
            yield f"http://127.0.0.1:{port}"
        finally:
            process.send_signal(signal.SIGTERM)


class Pair:
    """Two processes of the service."""

    def __init__(self, folder: Path, store: str) -> None:
        """They write into ``folder``."""
        self.ports = (free_port(), free_port())
        self._folder = folder
        self._environment = {
            "UPSTROKE_RATE_STORE": store,
            "UPSTROKE_RATE_STORE_PATIENCE": "5000",
            "UPSTROKE_RATE_LIMIT": f"{QUOTA}/86400",
            "UPSTROKE_TRUSTED_PROXIES": "127.0.0.1",
            "UPSTROKE_DRAIN_SECONDS": "1",
            # A busy machine is not what is tried here.
            "UPSTROKE_LONGEST_WAIT": "20",
            "UPSTROKE_LOG_LEVEL": "error",
        }
        self._starts = itertools.count()
        self.running = [self.start(0), self.start(1)]
        for process in self.running:
            process.wait_until_ready()

    def start(self, place: int) -> Process:
        """A new process at this place."""
        log = self._folder / f"service-{next(self._starts)}.log"
        return Process(log, self.ports[place], **self._environment)

    def replace(self, place: int, number: signal.Signals) -> None:
        """End one process, wait until it is gone, start it anew and wait until it is ready."""
        process = self.running[place]
        if number is signal.SIGKILL:
            process.kill()
        else:
            process.tell_to_end()
            process.end()
        self.running[place] = self.start(place)
        self.running[place].wait_until_ready()

    def kill(self) -> None:
        """End both."""
        for process in self.running:
            process.kill()


def requests() -> list[tuple[str, bytes]]:
    """Long and short calculations of the demo's quotes."""
    sizings = [("/v1/sizings", json.dumps(quote).encode()) for quote in quotes().values()]
    cautions = [
        ("/v1/cautions", json.dumps({"site": quote["site"]}).encode())
        for quote in quotes().values()
        if "site" in quote
    ]
    return sizings + cautions


async def _send(client: httpx.AsyncClient, path: str, body: bytes) -> httpx.Response:
    return await client.post(path, content=body, headers={"Content-Type": "application/json"})


def _reason(response: httpx.Response) -> str:
    if response.headers["Content-Type"] == "application/problem+json":
        return f"{response.status_code} {response.json()['detail']}"
    return str(response.status_code)


async def _ask(client: httpx.AsyncClient, path: str, body: bytes, figures: Figures) -> httpx.Response | None:
    """The answer after one retry at most, or None."""
    for attempt in (0, 1):
        try:
            response = await _send(client, path, body)
            reason = _reason(response) if response.status_code in RETRIED else ""
        except httpx.TransportError as error:
            response, reason = None, type(error).__name__
        if not reason:
            return response
        if attempt:
            figures.failed.append(reason)
        else:
            figures.retried[reason] += 1
            await asyncio.sleep(PAUSE)
    return None


async def _client(
    url: str, expected: dict[tuple[str, bytes], bytes], figures: Figures, over: asyncio.Event, offset: int
) -> None:
    mixed = list(expected)
    async with httpx.AsyncClient(base_url=url, timeout=PATIENCE, trust_env=False) as client:
        for place in itertools.count(offset):
            if over.is_set():
                return
            path, body = mixed[place % len(mixed)]
            begun = time.perf_counter()
            response = await _ask(client, path, body, figures)
            if response is None:
                continue
            figures.milliseconds.append(1_000.0 * (time.perf_counter() - begun))
            figures.answered += 1
            if response.status_code != httpx.codes.OK or response.content != expected[path, body]:
                figures.wrong.append(f"{response.status_code} {response.text[:200]}")


async def _trouble(pair: Pair, figures: Figures, restarts: int) -> None:
    """One process after the other, by force and politely."""
    for place, number in itertools.islice(itertools.cycle(_ENDS), restarts):
        await asyncio.sleep(1.0)
        await asyncio.to_thread(pair.replace, place, number)
        figures.ended[number.name] += 1
    await asyncio.sleep(1.0)


async def _load(url: str, pair: Pair, clients: int, restarts: int) -> Figures:
    figures = Figures()
    expected: dict[tuple[str, bytes], bytes] = {}
    async with httpx.AsyncClient(base_url=pair.running[0].url, timeout=PATIENCE, trust_env=False) as client:
        for path, body in requests():
            expected[path, body] = (await _send(client, path, body)).raise_for_status().content
    over = asyncio.Event()

    async def trouble() -> None:
        try:
            await _trouble(pair, figures, restarts)
        finally:
            over.set()

    await asyncio.gather(
        trouble(), *(_client(url, expected, figures, over, 3 * place) for place in range(clients))
    )
    async with httpx.AsyncClient(base_url=url, timeout=PATIENCE, trust_env=False) as client:
        rest = (await client.get("/v1/units")).headers["RateLimit"]
    figures.counted = QUOTA - int(rest.partition(";r=")[2].partition(";")[0]) - len(expected) - 1
    return figures


def run(restarts: int, clients: int) -> Figures:
    """End and start a process so many times."""
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="resilience-")))
        store = Store()
        stack.callback(store.stop)
        store.start()
        pair = Pair(folder, store.url)
        stack.callback(pair.kill)
        url = stack.enter_context(proxy(folder, pair.ports))
        return asyncio.run(_load(url, pair, clients, restarts))


def main() -> int:
    """Print the figures; the status says whether they are good."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--restarts", type=int, default=12)
    parser.add_argument("--clients", type=int, default=8)
    options = parser.parse_args()
    if missing():
        print(f"not run: {missing()}", file=sys.stderr)
        return 2
    begun = time.monotonic()
    figures = run(options.restarts, options.clients)
    print(figures.report(time.monotonic() - begun))
    for one in [*figures.failed, *figures.wrong][:10]:
        print(f"  {one}")
    return 1 if figures.failed or figures.wrong or figures.counted < figures.answered else 0


if __name__ == "__main__":
    sys.exit(main())
