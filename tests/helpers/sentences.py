"""Words counted and sentences measured, as somebody reads them."""

import re

MOST_WORDS = 25
"""Words in a sentence that people read."""


def words_in(text):
    """Count the words of a text: what holds a letter or a figure, not marks and dashes."""
    return sum(any(letter.isalnum() for letter in word) for word in text.split())


def sentences_of(text):
    """List the sentences of a text: each ends with a mark, or with its line."""
    plain = text.replace("**", "")
    lines = (re.sub(r"^(?:- |\d+\. )", "", line) for line in plain.splitlines())
    return [sentence for line in lines for sentence in re.split(r"(?<=[.?!])\s+", line)]


def long_sentences(text, most=MOST_WORDS):
    """List the sentences of more words than anybody reads in one breath."""
    return [sentence for sentence in sentences_of(text) if words_in(sentence) > most]
