"""What is known of a tin bath, in words: how it works, where it stops, what spoils it."""

from __future__ import annotations

from dataclasses import dataclass

from ...common.limits import check_choice
from ...common.tables import read, source

TOPICS = (
    "how it works",
    "it stops",
    "three stages",
    "specification",
    "other metals",
    "usable",
    "peroxide",
    "thiourea",
    "waste",
    "no recipe",
)
"""What the table has words for."""


@dataclass(frozen=True)
class Fact:
    """What is known of one topic.

    Parameters
    ----------
    topic : str
        One of `TOPICS`.
    words : str
        What is said.
    sources : tuple of str
        Where from, each as it is cited.
    status : str
        "published", "from memory", "second hand", "common practice", "assumed" and so on.
    as_of : str
        When that was written.
    """

    topic: str
    words: str
    sources: tuple[str, ...]
    status: str
    as_of: str


def fact(topic: str) -> Fact:
    """Return what is known of a topic.

    Parameters
    ----------
    topic : str
        One of `TOPICS`.

    Returns
    -------
    Fact
        Its words and where they come from.

    Raises
    ------
    InputError
        Another topic.

    Examples
    --------
    >>> print(fact("it stops").status)
    common practice
    """
    check_choice("topic", topic, TOPICS)
    (row,) = (row for row in read("tin_facts") if row["topic"] == topic)
    works = tuple(source(key) for key in row["source"].split("; "))
    return Fact(topic, row["words"], works, row["status"], row["as_of"])


def facts() -> tuple[Fact, ...]:
    """List what is known, in the order in which it is told.

    Examples
    --------
    >>> print(len(facts()))
    10
    """
    return tuple(fact(topic) for topic in TOPICS)
