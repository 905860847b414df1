"""The app of a class, started as a teacher starts it, and what its processes are."""

import contextlib
import os
import queue
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path

import psutil

ROOT = Path(__file__).parents[2]
READY = "Ready: "
WARM = 240.0  # longest wait for its kernels to run their pages [s]
END = 30.0  # longest wait for it and its kernels to end [s]


def free_port():
    """Return a port that nothing uses."""
    with socket.socket() as place:
        place.bind(("127.0.0.1", 0))
        return place.getsockname()[1]


class ClassApp:
    """A running app: its address, what it has printed, and its processes."""

    def __init__(self, process, port):
        self.process, self.port = process, port
        self.address = f"http://127.0.0.1:{port}/"
        self.lines, self.coming = [], queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self):
        for line in self.process.stdout:
            self.coming.put(line.rstrip("\n"))
        self.coming.put(None)

    def wait_for(self, words, seconds=WARM):
        """Wait until it prints a line that begins with these words."""
        end = time.monotonic() + seconds
        while not any(line.startswith(words) for line in self.lines):
            try:
                line = self.coming.get(timeout=max(0.0, end - time.monotonic()))
            except queue.Empty:
                line = None
            assert line is not None, f"no {words!r} in {self.lines}"
            self.lines.append(line)

    def kernels(self):
        """Return the processes of its kernels."""
        return psutil.Process(self.process.pid).children(recursive=True)

    def kernel_of(self, identity):
        """Return the process of the kernel that the app calls so."""
        (kernel,) = [child for child in self.kernels() if identity in " ".join(child.cmdline())]
        return kernel

    def stop(self, signal_number):
        """Ask it to end; return what it printed last, and what is left of its kernels."""
        kernels = self.kernels()
        self.process.send_signal(signal_number)
        self.process.wait(END)
        # at once: kernels that are left alone notice it too, after a second or more
        _, left = psutil.wait_procs(kernels, timeout=0.1)
        while (line := self.coming.get(timeout=END)) is not None:
            self.lines.append(line)
        return self.lines[-1], left


@contextlib.contextmanager
def class_app(folder, *options):
    """Start the app on a folder of pages; in the end it is gone, whatever happened."""
    port = free_port()
    command = [sys.executable, "-m", "pcbchem.lesson.app", str(folder), f"--port={port}", *options]
    path = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")]))
    with subprocess.Popen(
        command,
        env={**os.environ, "PYTHONPATH": path},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as process:
        app = ClassApp(process, port)
        try:
            yield app
        finally:
            if process.poll() is None:
                process.terminate()
                try:
                    process.wait(END)
                except subprocess.TimeoutExpired:
                    process.kill()
