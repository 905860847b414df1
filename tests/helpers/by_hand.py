"""Steps worked out by hand, as a page prints them: a number, a sign, a number, what comes of it."""

DO = {
    "×": lambda a, b: a * b,
    "÷": lambda a, b: a / b,
    "+": lambda a, b: a + b,
    "−": lambda a, b: a - b,
}
"""What each sign does."""


def right_as_printed(steps, slack=0.0):
    """Work each step out again: what it prints is right to half its last digit.

    And to a share of the result more, where a step goes on with digits that are not printed.
    """
    for first, sign, second, result in steps:
        half = 0.5 * 10.0 ** -len(result.partition(".")[2])
        value = DO[sign](float(first), float(second))
        wrong_by = abs(value - float(result))
        assert wrong_by <= 1.001 * half + slack * value, (first, sign, second, result)
