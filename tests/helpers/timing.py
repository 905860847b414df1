"""The shortest of several runs: what else the machine does only makes one longer."""

from time import perf_counter


def best(work, times):
    """Shortest of several runs [s], after one to warm up."""
    work()
    took = []
    for _ in range(times):
        begun = perf_counter()
        work()
        took.append(perf_counter() - begun)
    return min(took)
