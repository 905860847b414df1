"""Shim to be replaced by the card helper's module."""


class C:
    html = "<h1>card</h1>"


def card(plan):
    return C()
