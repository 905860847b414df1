"""Laws of what a page asks before it shows: each choice is answered, and one of them is right."""


def each_has_a_reply_of_its_own(prediction, least=1):
    """Hold that each answer and each reason differs from the others, and so does its reply.

    A reply has at least so many letters.
    """
    options = [*prediction.options.values(), *prediction.reasons.values()]
    assert all(len(option.reply) >= least for option in options)
    assert len({option.reply for option in options}) == len(options)
    assert len({option.words for option in options}) == len(options)


def the_right_one_alone_is_told_so(prediction, right):
    """Hold that the reply to the right answer, by its key, begins with yes, and no other does."""
    for key, option in prediction.options.items():
        assert option.reply.startswith("Yes: ") == (key == right), key
