"""House rule of the names: a local name is a noun of the trade, no participle or pronoun."""

import ast
import re
from collections import Counter

import pytest

from house.source import MODULES, module_name, text_of

MOST_POOR = 0.05
"""Share of local names that may be poor: a few are the plainest word where they stand [-]."""
WORST = 8
"""Files named when there are too many."""

PARTICIPLES = {
    *("asked", "begun", "bought", "bound", "broken", "brought", "built", "caught", "chosen"),
    *("done", "drawn", "driven", "fed", "felt", "found", "given", "gone", "got", "held"),
    *("hidden", "kept", "known", "laid", "lost", "made", "meant", "met", "paid", "said"),
    *("seen", "sent", "shown", "sold", "spoken", "spent", "stood", "sworn", "taken", "taught"),
    *("thought", "told", "torn", "understood", "won", "worn", "written"),
}
PRONOUNS = {
    *("another", "anything", "both", "each", "either", "every", "everything", "he", "her", "here"),
    *("his", "how", "it", "its", "itself", "mine", "my", "neither", "none", "nothing", "of"),
    *("one", "ones", "other", "others", "our", "ours", "own", "same", "she", "some", "something"),
    *("such", "that", "their", "theirs", "them", "there", "these", "they", "thing", "things"),
    *("this", "those", "us", "we", "what", "when", "where", "which", "who", "whose", "why"),
    *("your", "yours"),
}
PLAIN = {
    *("bed", "bleed", "deed", "feed", "led", "need", "red", "seed", "shed", "speed", "weed"),
    *("children", "eleven", "even", "green", "halogen", "hydrogen", "kitchen", "nitrogen"),
    *("open", "oxygen", "pen", "screen", "seven", "specimen", "ten", "then", "token"),
    *("brown", "down", "town"),
}
"""Words that end as a participle does and are none."""
PARTICIPLE = re.compile(r"[a-z]+(ed|en|wn)")


def is_poor(name):
    """Tell whether a name says nothing of what it holds.

    >>> print(is_poor("found"), is_poor("its"), is_poor("drawn"), is_poor("poured"))
    True True True True
    >>> print(is_poor("speed"), is_poor("share_left"), is_poor("stirred_film"))
    False False False
    """
    word = name.strip("_").lower()
    if word in PARTICIPLES or word in PRONOUNS:
        return True
    return PARTICIPLE.fullmatch(word) is not None and word not in PLAIN


def is_private(name):
    """Tell whether a function is for its own module alone."""
    return name.startswith("_") and not name.endswith("__")


def parameters(function):
    """List the parameters of a function by name."""
    args = function.args
    slots = [*args.posonlyargs, *args.args, *args.kwonlyargs, args.vararg, args.kwarg]
    return [slot.arg for slot in slots if slot is not None]


class Locals(ast.NodeVisitor):
    """Collects the local names of a module: each once in its function, in `names`.

    A name is local if a function, a lambda or a comprehension binds it: by assignment, as the
    target of a loop or of `with`, for an error, or as a parameter of what is private. What a module
    or a class binds is not local, and neither are the parameters of a public function: other
    modules use both by name.
    """

    def __init__(self):
        self.names = []
        self.scopes = []

    def bind(self, name):
        if self.scopes and name not in self.scopes[-1] and name.strip("_") not in ("", "self"):
            self.scopes[-1].add(name)
            self.names.append(name)

    def inside(self, node, names=()):
        self.scopes.append(set())
        for name in names:
            self.bind(name)
        self.generic_visit(node)
        self.scopes.pop()

    def visit_FunctionDef(self, node):
        private = is_private(node.name) or self.scopes
        self.inside(node, parameters(node) if private else ())

    def visit_Lambda(self, node):
        self.inside(node, parameters(node))

    def visit_ClassDef(self, node):
        # what a class binds are its fields; its methods are as public as their names
        outer, self.scopes = self.scopes, []
        self.generic_visit(node)
        self.scopes = outer

    def visit_comprehension_scope(self, node):
        self.inside(node)

    visit_ListComp = visit_SetComp = visit_DictComp = visit_comprehension_scope
    visit_GeneratorExp = visit_comprehension_scope

    def visit_Name(self, node):
        if isinstance(node.ctx, ast.Store):
            self.bind(node.id)

    def visit_ExceptHandler(self, node):
        if node.name:
            self.bind(node.name)
        self.generic_visit(node)


def local_names(text):
    """List the local names of a source text, each once in its function or comprehension."""
    visitor = Locals()
    visitor.visit(ast.parse(text))
    return visitor.names


def report(texts):
    """Return the share of poor local names [-], and the files that have most of them in words."""
    names = {name: local_names(text) for name, text in texts.items()}
    poor = {name: [word for word in words if is_poor(word)] for name, words in names.items()}
    count = Counter({name: len(words) for name, words in poor.items()})
    total = sum(len(words) for words in names.values())
    lines = [
        f"{name}: {number} of {len(names[name])}: {', '.join(sorted(set(poor[name])))}"
        for name, number in count.most_common(WORST)
        if number
    ]
    return sum(count.values()) / max(total, 1), "\n".join(lines)


def test_law_local_names_are_nouns_of_the_trade():
    share, worst = report({module_name(path): text_of(path) for path in MODULES})
    assert share < MOST_POOR, f"{100 * share:.1f} % of the local names are poor\n{worst}"


@pytest.mark.parametrize(
    "text, names",
    [
        ("def f():\n    found = 1", ["found"]),
        ("def f():\n    found = 1\n    found = 2", ["found"]),
        ("def f():\n    for one, (its, _) in rows: ...", ["one", "its"]),
        ("def f():\n    return [own for own in rows]", ["own"]),
        ("def f():\n    with open(path) as held: ...", ["held"]),
        ("def f():\n    if (seen := g()): ...", ["seen"]),
        ("def f():\n    try: ...\n    except ValueError as said: ...", ["said"]),
        ("def f():\n    given: int = 1\n    told += 1", ["given", "told"]),
        ("def _f(kept, *asked, of=1): ...", ["kept", "of", "asked"]),
        ("f = lambda made: 1", ["made"]),
        ("def f():\n    def g(drawn): ...", ["drawn"]),
        ("class A:\n    found = 1\n    def f(self, kept):\n        poured = 2", ["poured"]),
        ("found = 1\ndef f(kept): ...", []),
    ],
)
def test_law_every_local_name_is_seen_once(text, names):
    assert local_names(text) == names
    assert all(is_poor(name) for name in names)


def test_law_too_many_poor_names_are_seen():
    good = "def f():\n    " + "\n    ".join(f"rate_{number} = 1" for number in range(19))
    assert report({"good": good})[0] < MOST_POOR
    share, worst = report({"good": good, "poor": "def f():\n    its = 1"})
    assert share >= MOST_POOR
    assert worst == "poor: 1 of 1: its"
