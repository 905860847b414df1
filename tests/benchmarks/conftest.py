"""What the benchmarks share: printing past the capture, and first how busy the machine is."""

import os

import pytest


@pytest.fixture
def say(capsys):
    """Print past the capture, so that the numbers show when the test passes too."""

    def line(text):
        with capsys.disabled():
            print("\n    " + text, end="")

    if hasattr(os, "getloadavg"):
        line(f"processes waiting, last minute: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    return line
