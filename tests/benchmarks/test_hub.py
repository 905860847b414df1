"""How soon pupils who come to a hub at once see their first panel, on a quiet computer.

Run by `pytest tests/benchmarks/test_hub.py -n 0 -s`, where a hub is installed. Hub, servers and
browsers share this computer. The time is printed, pass or fail, and then asserted.
"""

from browser.school import arriving, come_in, needed, teaching

FIRST = 90  # the last of the first panels, from the first log-in on [s]


def test_pupils_come_at_once(tmp_path, say):
    needed()
    with teaching(tmp_path) as hub, arriving() as new_page:
        pages, times = come_in(hub, new_page)
        each = ", ".join(f"{time:.0f}" for time in times.values())
        say(f"{len(pages)} pupils at once: first panels after {each} s")
    assert max(times.values()) < FIRST
