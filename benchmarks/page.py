"""The page: how fast it starts, loads, follows a drag and answers; random requests by the thousand.

``python -m benchmarks.page [start|load|drag|fuzz ...]``: needs chromium and what the tests need.
Frames are counted while the start line is dragged, one movement a frame, on a desktop profile and
on one with the main thread slowed four times and three pixels to the point. Answers are the times
of ``/api/plan-moving`` as the browser saw them, and until all pieces of the answer were drawn;
beside them the processor's time that the server took for each, which does not depend on what else
the machine has to do. Nothing here asserts a time.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
from playwright.sync_api import Browser, Page, sync_playwright
from tests.browser.conftest import FLAGS
from tests.web.fuzz import fuzz
from tests.web.server import OWN, free_port, running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

FRAMES = 240
CASES_EACH = 60
ROOMS = {
    "30 m2": [[0, 0], [6000, 0], [6000, 5000], [0, 5000]],
    "480 m2, 2,000 pieces": [[0, 0], [24000, 0], [24000, 20000], [0, 20000]],
    "480 m2, walls slanted": [[0, 0], [24000, 150], [23800, 20000], [-100, 20100]],
}
PROFILES: dict[str, tuple[dict[str, Any], int]] = {
    "desktop 1280x800": ({"viewport": {"width": 1280, "height": 800}}, 1),
    "phone 390x844 at 3x, slowed 4x": (
        {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 3},
        4,
    ),
}
DRAG = """async (frames) => {
    const grip = document.querySelector('.grip[role=slider]');
    const box = grip.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const send = (kind, dy) => grip.dispatchEvent(new PointerEvent(kind, {
        bubbles: true, pointerId: 1, clientX: x, clientY: y + dy, buttons: 1 }));
    grip.setPointerCapture = () => {};
    performance.clearResourceTimings();
    const drawn = [];
    const watch = new PerformanceObserver(
        (list) => drawn.push(...list.getEntriesByName("pieces-drawn")));
    watch.observe({ type: 'mark' });
    performance.setResourceTimingBufferSize(2000);
    send('pointerdown', 0);
    const times = [], work = [];
    await new Promise((done) => {
        let n = 0;
        const step = (now) => {
            times.push(now);
            const begun = performance.now();
            send('pointermove', 9 * Math.sin(n / 12));
            work.push(performance.now() - begun);
            n += 1;
            if (n < frames) requestAnimationFrame(step);
            else done();
        };
        requestAnimationFrame(step);
    });
    const gaps = times.slice(1).map((t, i) => t - times[i]);
    await new Promise((done) => setTimeout(done, 1000)); // the last answers
    watch.disconnect();
    send('pointerup', 0);
    const asked = performance.getEntriesByType('resource')
        .filter((one) => one.name.endsWith('/api/plan-moving'));
    const shown = asked.flatMap((one) => {
        const mark = drawn.find((mark) => mark.startTime > one.responseEnd);
        return mark ? [mark.startTime - one.startTime] : [];
    });
    return { gaps, work, answers: asked.map((one) => one.duration), shown };
}"""


def start(browser: Browser) -> None:
    """From the command to the first paint."""
    for turn in range(3):
        begun = time.perf_counter()
        with _command() as (address, _):
            listening = time.perf_counter() - begun
            page = browser.new_page()
            page.goto(address)
            page.wait_for_selector("#newjob")
            shown = time.perf_counter() - begun
            paint = _paint(page)
            page.close()
        told = f"listening after {listening:.2f} s, first paint {listening + paint / 1e3:.2f} s"
        print(f"start {turn + 1}: {told}, list of jobs {shown:.2f} s")


def load(browser: Browser) -> None:
    """The first load: bytes and time."""
    with _server() as address:
        for what, path in (("list of jobs", "/"), ("a job", _job(address, ROOMS["30 m2"]))):
            page = browser.new_page()
            page.goto(address + path)
            page.wait_for_load_state("networkidle")
            sizes = page.evaluate(
                """() => [...performance.getEntriesByType('navigation'),
                          ...performance.getEntriesByType('resource')]
                    .map((one) => one.transferSize)"""
            )
            loaded = page.evaluate("performance.getEntriesByType('navigation')[0].loadEventEnd")
            kb = sum(sizes) / 1e3
            print(f"{what}: {kb:.0f} kB in {len(sizes)} files, first paint {_paint(page):.0f} ms, "
                  f"loaded {loaded:.0f} ms")  # fmt: skip
            page.close()


def drag(browser: Browser) -> None:
    """Frames and answers while the start line is dragged."""
    print(f"load average {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"{'room':22} {'profile':32} {'frame ms median/p95':>20} {'fps':>5} {'script p95':>10} "
          f"{'answer ms median/p95':>21} {'drawn median/p95':>17} {'answers':>8} "
          f"{'server ms':>9}")  # fmt: skip
    with _command() as (address, server):
        for room, corners in ROOMS.items():
            for profile, (options, slowed) in PROFILES.items():
                context = browser.new_context(**options)
                page = context.new_page()
                page.goto(address + _job(address, corners))
                page.wait_for_selector(".piece", timeout=120_000)
                page.wait_for_timeout(6_000)  # the proof and the letters
                context.new_cdp_session(page).send(
                    "Emulation.setCPUThrottlingRate", {"rate": slowed}
                )
                begun = _processor_s(server)
                found = page.evaluate(DRAG, FRAMES)
                server_ms = 1e3 * (_processor_s(server) - begun)
                gaps, answers = found["gaps"], found["answers"]
                fps = 1e3 * len(gaps) / sum(gaps)
                print(f"{room:22} {profile:32} {_pair(gaps):>20} {fps:5.0f} "
                      f"{_part(found['work'], 0.95):10.1f} {_pair(answers):>21} "
                      f"{_pair(found['shown']):>17} {len(answers):8} "
                      f"{server_ms / max(len(answers), 1):9.0f}")  # fmt: skip
                context.close()


def many(_: Browser) -> None:
    """Random requests after the OpenAPI page."""
    warnings.simplefilter("ignore")
    with _server() as address:
        statuses = fuzz(address, CASES_EACH, seed=int(time.time()))
    print(f"{sum(statuses.values())} random requests: {dict(sorted(statuses.items()))}")


def _job(address: str, corners: list[list[int]]) -> str:
    document = {"job": {"name": "Bench", "unit": "mm"}, "room": {"outline": corners}}
    job = httpx.post(f"{address}/api/jobs", json={"document": document}, headers=OWN).json()
    return f"/#/job/{job['id']}/plan"


@contextmanager
def _command() -> Iterator[tuple[str, int]]:
    """``plankwright serve`` with nothing in it: its address and its process."""
    with tempfile.TemporaryDirectory() as folder:
        port = free_port()
        command = [sys.executable, "-m", "plankwright", "serve", "--port", str(port)]
        server = subprocess.Popen(
            [*command, "--data", str(Path(folder) / "jobs")], stderr=subprocess.DEVNULL
        )
        try:
            _wait(port)
            yield f"http://127.0.0.1:{port}", server.pid
        finally:
            server.terminate()
            server.wait()


def _processor_s(process: int) -> float:
    """Seconds of the processor that a process has used."""
    after_name = Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2]
    user, system = after_name.split()[11:13]
    return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


@contextmanager
def _server() -> Iterator[str]:
    with tempfile.TemporaryDirectory() as folder:
        app = make_app(JobStore(Path(folder) / "jobs"), Pairing(time.time))
        with running(app) as address:
            yield address


def _wait(port: int) -> None:
    while True:
        try:
            httpx.get(f"http://127.0.0.1:{port}/api/place")
            return
        except httpx.TransportError:
            time.sleep(0.01)


def _paint(page: Page) -> float:
    """When the first paint was [ms]; it is told some time after it."""
    while True:
        paints = page.evaluate(
            "performance.getEntriesByName('first-contentful-paint').map((one) => one.startTime)"
        )
        if paints:
            return float(paints[0])
        page.wait_for_timeout(20)


def _pair(values: Sequence[float]) -> str:
    return f"{_part(values, 0.5):.1f} / {_part(values, 0.95):.1f}" if values else "-"


def _part(values: Sequence[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


PARTS = {"start": start, "load": load, "drag": drag, "fuzz": many}


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure the parts that were named, or all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="|".join(PARTS))
    parts = parser.parse_args(arguments).parts or list(PARTS)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        for name in parts:
            PARTS[name](browser)
        browser.close()


if __name__ == "__main__":
    main()
