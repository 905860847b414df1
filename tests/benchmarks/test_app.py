"""How quick the app of a class is with thirty readers, on a quiet computer with two cores.

Run by `pytest tests/benchmarks/test_app.py -n 0 -s`; it takes three minutes and 6 GB of memory. The
readers come within nine seconds and speak to their kernels as a page does: each makes the first
prediction, then moves the slider of water once a second. What their own computers take for scripts
and pictures is not in it. Everything is printed, pass or fail, and then asserted.
"""

import asyncio
import json
import re
import statistics
import uuid
from time import perf_counter

import psutil
from benchmarks.test_pages import tail
from helpers.class_app import READY, ROOT, class_app
from jupyter_server.services.kernels.connection.base import (
    deserialize_msg_from_ws_v1,
    serialize_msg_to_ws_v1,
)
from tornado.httpclient import AsyncHTTPClient
from tornado.websocket import websocket_connect

PAGE = "voila/render/04_why_water_slows_it.ipynb"
READERS = 30
ARRIVE = 9.0  # they come within so long [s]
MOVES = 30  # of each reader, one a second
PATIENCE = 60.0  # longest wait for an answer [s]
# limits
OPEN = 2.0  # the whole page [s]
MOVE, SLOW_MOVE = 80, 250  # a move of the slider: the middle one, and 95 of 100 [ms]
MEMORY = 170  # of a kernel [MB]
OUTPUT = re.compile(r'<script type="application/vnd.voila.cell-output\+json">(.*?)</script>', re.S)
VIEW = "application/vnd.jupyter.widget-view+json"


class Reader:
    """One reader: the page, its kernel, and the widgets in it that are spoken to."""

    def __init__(self, address):
        self.address = address
        self.moves = []  # each until its answer is here [ms]

    async def come(self):
        """Open the page; note how long it takes [s]."""
        start = perf_counter()
        answer = await AsyncHTTPClient().fetch(self.address + PAGE, request_timeout=PATIENCE * 10)
        self.opening = perf_counter() - start
        page = answer.body.decode()
        self.kernel = re.search(r'"kernelId": "([\w-]+)"', page)[1]
        widgets = [json.loads(output)["data"][VIEW]["model_id"] for output in OUTPUT.findall(page)]
        self.prediction, self.panel = widgets[:2]  # they stand first
        channels = f"{self.address.replace('http', 'ws')}api/kernels/{self.kernel}/channels"
        # as a browser does: the server cannot pass a picture on in the older way
        self.line = await websocket_connect(
            channels, subprotocols=["v1.kernel.websocket.jupyter.org"], max_message_size=2**26
        )

    async def tell(self, widget, content):
        """Send a widget what a page would send it."""
        header = {
            "msg_id": uuid.uuid4().hex,
            "msg_type": "comm_msg",
            "session": self.kernel,
            "username": "reader",
            "version": "5.3",
        }
        content = {"comm_id": widget, "data": content}
        message = {"header": header, "parent_header": {}, "metadata": {}, "content": content}
        packed = serialize_msg_to_ws_v1(message, "shell", lambda part: json.dumps(part).encode())
        await self.line.write_message(packed, binary=True)

    async def hear(self, widget, name, value):
        """Wait until a widget says that something of it has this value now."""
        while True:
            message = await asyncio.wait_for(self.line.read_message(), PATIENCE)
            assert message is not None, "the kernel has hung up"
            content = json.loads(deserialize_msg_from_ws_v1(message)[1][3])
            state = content.get("data", {}).get("state", {})
            if content.get("comm_id") == widget and state.get(name) == value:
                return state

    async def predict(self):
        """Answer the first question with its reason: then the panel shows its answer."""
        content = {"choice": "page", "reason": "more", "number": "1", "seen": ""}
        await self.tell(self.prediction, {"method": "custom", "content": content})
        await self.hear(self.prediction, "done", "1")

    async def move(self, count):
        """Move the slider, and note how long the answer takes [ms]."""
        water = round(0.1 * (1 + 7 * count % 30), 1)
        state = {"values": {"water": water, "view": "bars"}, "asked": count}
        start = perf_counter()
        await self.tell(self.panel, {"method": "update", "state": state, "buffer_paths": []})
        words = await self.hear(self.panel, "done", count)
        self.moves.append(1000 * (perf_counter() - start))
        assert words.get("readout", "").startswith(f"{water:g} part"), words.get("readout")

    async def read(self, delay):
        """Come after so long [s], predict, and move the slider once a second."""
        await asyncio.sleep(delay)
        await self.come()
        await self.predict()
        for count in range(1, MOVES + 1):
            start = perf_counter()
            await self.move(count)
            await asyncio.sleep(max(0.0, 1 - (perf_counter() - start)))
        self.line.close()
        await self.line.read_message()  # until it is closed


async def lesson(address):
    """Let all readers come and read; return them, and what has failed."""
    AsyncHTTPClient.configure(None, max_clients=READERS, max_body_size=2**27)
    readers = [Reader(address) for _ in range(READERS)]
    delays = [ARRIVE * number / READERS for number in range(READERS)]
    ends = await asyncio.gather(
        *(reader.read(delay) for reader, delay in zip(readers, delays, strict=True)),
        return_exceptions=True,
    )
    return readers, [end for end in ends if end is not None]


def test_thirty_readers(say):
    with class_app(ROOT / "notebooks", f"--readers={READERS}") as app:
        start = perf_counter()
        app.wait_for(READY, 900)
        say(f"{READERS} kernels of page 04, one of each other page: {perf_counter() - start:.0f} s")
        readers, failures = asyncio.run(lesson(app.address))
        used = [app.kernel_of(reader.kernel) for reader in readers]
        kernels = [process.memory_full_info().uss / 1e6 for process in used]
        everything = sum(process.memory_full_info().uss for process in app.kernels())
        everything += psutil.Process(app.process.pid).memory_full_info().uss
    assert failures == [], failures
    openings = [reader.opening for reader in readers]
    moves = [move for reader in readers for move in reader.moves]
    say(f"page: median {statistics.median(openings):.2f} s, most {max(openings):.2f} s")
    say(
        f"{len(moves)} moves: median {statistics.median(moves):.0f} ms, 95 % under "
        f"{tail(moves):.0f}, most {max(moves):.0f} ms; none failed"
    )
    say(
        f"a kernel of page 04: {statistics.mean(kernels):.0f} MB, most {max(kernels):.0f}; "
        f"all {everything / 1e9:.2f} GB"
    )
    assert len(moves) == READERS * MOVES
    assert max(openings) < OPEN
    assert statistics.median(moves) < MOVE and tail(moves) < SLOW_MOVE
    assert statistics.mean(kernels) < MEMORY
