"""Law: no sentence permits a drain, a room, a kitchen hood, a closed bottle, neutralising at home.

What is written in files is read here: pages, README, reference, tables, and all that the package
holds in quotation marks. What panels say at the corners of their controls is read in
`lesson/test_pages.py`, where they are swept.
"""

import ast
import csv
import functools
import json
import re

import pytest
from helpers.bath_rules import BATH_RULES
from helpers.permissions import EXCEPTIONS, FILLED, permissions, sentences
from house.source import PACKAGE, ROOT

NOTEBOOKS = ROOT / "notebooks"
QUOTED = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'(?:[^\'\\\n]|\\.)*\'|`(?:[^`\\]|\\.)*`')
"""What stands in quotation marks in JavaScript."""


def words_of(node):
    """Return the text that an expression makes, with a mark where a value comes in, or None."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(words_of(part) or FILLED for part in node.values)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        sides = [words_of(node.left), words_of(node.right)]
        if sides != [None, None]:
            return "".join(side or FILLED for side in sides)
    return None


def literals(source):
    """List the texts of a Python source: strings and docstrings, each joined as it is read."""
    texts = []
    waiting = [ast.parse(source)]
    while waiting:
        node = waiting.pop()
        text = words_of(node)
        if text is not None:
            texts.append(text)
        waiting += ast.iter_child_nodes(node)
    return texts


def texts_of(path):
    """List the texts of a file that people can see."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        return literals(text)
    if path.suffix == ".csv":
        return [cell for row in csv.reader(text.splitlines()) for cell in row]
    if path.suffix == ".js":
        return [quoted[1:-1] for quoted in QUOTED.findall(text)]
    if path.suffix == ".ipynb":
        texts = []
        for cell in json.loads(text)["cells"]:
            source = "".join(cell["source"])
            texts += literals(source) if cell["cell_type"] == "code" else []
            # prose, and the comments of code
            texts.append(source)
        return texts
    # the drawing of the house names modules: no sentences
    return [re.sub(r"```text\n.*?```", "", text, flags=re.DOTALL)]


def files():
    """List every file that holds sentences for people: what lands later is among them."""
    paths = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
    for folder, names in ((NOTEBOOKS, "ipynb md py"), (PACKAGE, "py csv js j2")):
        for name in names.split():
            paths += sorted(folder.rglob(f"*.{name}"))
    return [path for path in paths if ".ipynb_checkpoints" not in path.parts]


@functools.cache
def written():
    """Return the texts of every file, by its name."""
    return {str(path.relative_to(ROOT)): texts_of(path) for path in files()}


def test_law_no_file_permits_what_nobody_may_permit():
    found = {}
    for name, texts in written().items():
        broken = [each for text in texts for each in permissions(text)]
        if broken:
            found[name] = sorted(set(broken))
    assert found == {}


def test_law_every_kind_of_file_is_read():
    kinds = {name.rsplit(".", 1)[1] for name in written()}
    assert kinds == {"md", "ipynb", "py", "csv", "js", "j2"}
    pages = {path.name for path in NOTEBOOKS.glob("*.ipynb")}
    assert pages and {f"notebooks/{name}" for name in pages} <= set(written())
    assert len(sentences(" ".join(written()["notebooks/00_plan_a_bath.ipynb"]))) > 60


PLANTED = "It may go down the drain."


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("page.md", "# Rest\n\n> **Waste.** It may go\n> down the *drain*.\n"),
        ("table.csv", f'topic,words\nrest,"Stay, {PLANTED}"\n'),
        ("words.py", 'REST = (\n    "It may go down "\n    "the drain."\n)\n'),
        ("docstring.py", f'def f():\n    """Say it.\n\n    {PLANTED}\n    """\n'),
        ("filled.py", 'def f(rest):\n    return f"{rest} may go down the drain."\n'),
        ("sum.py", 'def f(rest):\n    return rest + " may go down " + "the drain."\n'),
        ("panel.js", f'const rest = "{PLANTED}";\n'),
        ("copy.j2", f"<p>{PLANTED}</p><p>Never.</p>"),
        ("prose.ipynb", json.dumps({"cells": [{"cell_type": "markdown", "source": [PLANTED]}]})),
        (
            "code.ipynb",
            json.dumps({"cells": [{"cell_type": "code", "source": [f'say("{PLANTED}")']}]}),
        ),
    ],
)
def test_law_a_sentence_is_seen_wherever_it_stands(tmp_path, name, text):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    found = [rule for part in texts_of(path) for rule, _ in permissions(part)]
    assert "a drain" in found


FORBIDDEN = {
    "a drain": (
        "Clear liquid may go down the drain.",
        "Once the strip reads nothing, the sink takes it.",
        "If it is not blue it may go down the drain.",
        "If it is not blue down the drain with it.",
        "If it does not fizz any more, down the drain with it.",
        "Nothing but clear water goes down the drain.",
        "No more than a cup a day into the sewer.",
        "There is no copper left and the rest goes down the drain.",
        "Do not keep it, pour it down the drain.",
        "The third rinse water: into the toilet, with plenty of water.",
        "The drain does it if it is not blue.",
        "It may be rinsed into the basin.",
        "Nothing speaks against the sink.",
        "No matter how blue it is, it goes down the drain.",
        "Down the drain, it is not blue.",
        "Down the drain as there is nothing left in it.",
    ),
    "pouring away": ("Rinse water may be poured away.", "Flush it with much water."),
    "on the ground": ("Thin it ten times and pour it on the grass.",),
    "household waste": (
        "Dry sludge goes into the household waste.",
        "Let it dry, then it goes into the bin.",
    ),
    "disposing": ("Dispose of it in a bucket of sand.",),
    "a kitchen hood": (
        "Under a kitchen hood it is less.",
        "Where there is no garden, a cooker hood helps.",
        "An extractor over the stove removes it.",
    ),
    "a room": (
        "A garage is enough.",
        "An open window is fine for so mild a bath.",
        "Work in the garage with the door open.",
        "With 10 % acid you can work in a room.",
        "Etch it indoors when it rains.",
        "So mild a bath is suited for indoors.",
        "With a fan the kitchen will do.",
    ),
    "ventilation": (
        "Work in a well-ventilated place.",
        "There is enough ventilation with the door open.",
        "Good ventilation keeps it down.",
        "Open the windows and work near them.",
        "The fan takes the vapour away.",
    ),
    "below a limit": (
        "In this room the vapour stays below the limit.",
        "It stays under every limit for an hour.",
    ),
    "closing a bath": (
        "After a week you can close the bottle.",
        "Put it into a jar and screw the lid on.",
        "When it has not bubbled for a day, close it.",
        "The bath is kept closed until the next board.",
        "A tight lid keeps the smell in.",
        "Bottle the used bath when it is quiet.",
        "Only a strip tells when it may be closed.",
        "Keep the jar well shut.",
        "The site takes it in a closed tub.",
    ),
    "neutralising": ("Neutralise it first.", "Then you neutralise the rest with soda."),
    "neutralising at home": (
        "You can neutralise it yourself.",
        "Neutralising works in a bucket.",
    ),
    "steps of neutralising": (
        "Stir in baking soda until it stops fizzing.",
        "Add lime a little at a time until the pH is 8.",
        "Soda goes in until it no longer fizzes.",
        "Add bicarbonate in portions, the next when it is quiet.",
    ),
    "an amount of lye": (
        "A spoon of lye neutralises it.",
        "The acid left in it takes 7.7 g of NaOH.",
        "40 g of NaOH go with a mole of acid.",
        "For the waste of one board: lye, 20 mL.",
        f"This much acid takes {FILLED} g of caustic soda.",
    ),
    "safe": (
        "Below 5 % it is safe.",
        "What is left is harmless.",
        "There is no danger in the open bottle.",
        "The vapour of it is not dangerous.",
        "So you can stay without risk.",
        "Ten minutes of it are not known to harm.",
    ),
    "fine": ("It is fine to keep it for a week.", "Outdoors it is OK to lean over it."),
    "allowed": (
        "That is allowed in a garage.",
        "You can breathe it for an hour.",
        "Then it may be closed.",
    ),
    "enough": ("The third rinse is clean enough to pour out.", "It is dilute enough for the sink."),
    "no need": (
        "You do not have to go outdoors.",
        "Below the smell line nothing speaks for going out.",
        "Weak acid needs no goggles.",
    ),
    "a place to live in": (
        "With acid of 9 % you may stay inside.",
        "Keep the board in the used bath overnight in the fridge.",
        "The tub can come indoors for the winter.",
    ),
    "as good as": (
        "A balcony is as good as a garden.",
        "Outdoors is better, but the hallway works too.",
        "A mask replaces the fume cupboard.",
    ),
    "drying or binning": (
        "Soak it up with cat litter and put the bag out with the rest.",
        "Let the bath evaporate and bin the crystals.",
    ),
    "waste called water": (
        "The third rinse is tap water again.",
        "Rinse the board under the tap.",
        "It is only copper.",
    ),
    "closing in other words": (
        "Cover the tub with cling film so that rain stays out.",
        "Squeeze the bottle now and then and let the gas out.",
        "Two blank strips and the bath is done.",
    ),
    "a nose": (
        "Chlorine smells long before it hurts.",
        "One quick sniff tells you whether the acid is good.",
    ),
    "an amount of baking soda": (
        "Two tablespoons of baking soda per cup of bath finish it.",
        "Keep adding chalk while it fizzes.",
    ),
    "a share of a limit": (
        "It takes a third of the limit, nothing to speak of.",
        "The vapour is a tenth of what workers breathe all day.",
    ),
    "belittling": (
        "Mild acid is about as strong as vinegar.",
        "After two blank strips the tub is no more danger than salt water.",
        "When nothing smells, the place is right.",
    ),
    "children": ("Children of twelve can pour the mild acid.",),
    "used again": (
        "Washing soda makes the waste ready for the council tip.",
        "Top it up with fresh peroxide and use it again.",
    ),
}
"""Invented sentences, by a rule that must find each."""

PERMITTED = (
    "Nothing down the drain or on the ground: copper kills water life.",
    "What is left is acid waste, never back, never down the drain.",
    "Gives off gas: stands open, never closed up. Not down the drain: to the collection point.",
    "Nothing goes back into a bottle, down the drain, or under a tight lid.",
    "A used bath stays open, never closed, and nothing goes down the drain.",
    "Muriatic acid is hydrochloric; battery and drain acid are sulfuric: never with peroxide.",
    "Outdoors in the shade, or in a working fume cupboard; no kitchen hood, open window or garage.",
    "A kitchen hood, an open window or a garage is neither.",
    "A kitchen hood counts as none.",
    "The drain is not for it.",
    "May it go down the drain when it is clear? No: copper stays.",
    "Why does nothing of it go down the drain?",
    "Only the site says when it may be closed.",
    "The place stands at the shut room.",
    "How far below the rim of a bottle the liquid lies.",
    "What a closed bottle of used bath would have to hold.",
    "The pressure that oxygen would build up if a bath were closed up: why it never is.",
    "Neutralise nothing that the site does not ask you to.",
    "Text read: no matter likely to injure the sewer, no prohibited refuse.",
    "Separate collection of hazardous household waste.",
    "To neutralise one mole of acid takes 84.0 g of bicarbonate.",
    "Peroxide gone is not harmless: acid and copper stay.",
    "In a shut garage one spill reaches 25 ppm.",
    "Acid of 10 % and more fumes: never open it in a room.",
    "Never close it up, in a bottle or under a sealing lid: closed bottles have burst.",
    "It bubbles out of an open vessel. In a closed one it bursts it.",
    "Vented cap, at most half full, never glass.",
    "Sealed goggles, not glasses; closed shoes.",
    "Spray only in a closed machine: elsewhere you would breathe a mist.",
    "Never in a closed vessel. The only stopper is the one with the wide tube in it.",
    "Kept readings stay in this browser, also when the page is closed.",
    "One breath over acid of 25 % can burn the lungs: arm's length, upwind, cap on at once.",
    "Do not just close its window: they would go on.",
    "Never neutralise a bath: it foams over, and copper stays.",
    "Never neutralise anything on skin or in an eye. Only water.",
    "What would neutralising take, for a mole of acid?",
    "Bicarbonate would neutralise it, cool it and fill the bucket with gas.",
    "A mole of acid takes 84.0 g of bicarbonate.",
    "Never solid lye into acid, never lye into a bath or its waste: it gets hot and spits.",
    "Lye of at most 1 mol/L, bought ready made.",
    "Run in lye of known strength until the colour turns, from a burette.",
    "1.5 g of NaOH in 120 mL of water is a developer.",
    "Weaker is not harmless: treat acid of any strength and every bath as corrosive.",
    "Goggles, open air or a fume cupboard do not make it safe.",
    "No flat tray is safe by this.",
    "Slow is not safe: then peroxide stays for days.",
    "Never call it safe.",
    "The limit is moved to the safe side.",
    "Error allowed a step, as a share of the scale of each state.",
    "By vapour alone the air in this room stays below each limit in 9 of 10 cases.",
    "Share of the plausible baths that have to keep each of these limits.",
    "A bottle measured since keeps its limits in the log.",
    "Such acid is weak enough to go before the peroxide.",
    "Where enough water is in it, the bath stays cool.",
    "On such fine tracks the resist decides.",
    "The waste stands open, labelled, fenced off, outdoors under a roof, never in a room.",
    "Never boiled, dried or soaked up with cat litter for the bin.",
    "A class stays outdoors: nobody works on it inside.",
    "No balcony is as good as outdoors.",
    "A smell of swimming baths: leave at once.",
    "It has no smell: no nose warns you.",
    "To neutralise a mole of acid would take 84.0 g of baking soda.",
    "By vapour alone it is a tenth of the limit.",
)
"""Sentences of the pages, and others like them, that no rule may find."""


@pytest.mark.parametrize(
    ("rule", "sentence"),
    [(rule, sentence) for rule, group in FORBIDDEN.items() for sentence in group],
)
def test_law_a_sentence_that_permits_is_found(rule, sentence):
    assert rule in [name for name, _ in permissions(sentence)]


@pytest.mark.parametrize("sentence", PERMITTED)
def test_law_a_sentence_that_permits_nothing_may_stand(sentence):
    assert permissions(sentence) == []


def test_law_every_rule_has_its_sentences_and_says_why():
    assert set(FORBIDDEN) == set(BATH_RULES)
    assert all(len(rule.why) > 20 for rule in BATH_RULES.values())


def test_law_every_exception_still_stands_somewhere_and_is_needed(monkeypatch):
    """Each is the words of a sentence that a rule would find without it."""
    everything = "\n\n".join(text for texts in written().values() for text in texts)
    parts = sentences(everything)
    for words, reason in EXCEPTIONS.items():
        assert reason
        about = [sentence for sentence in parts if words in sentence]
        assert about, words
        # the same sentence in other letters is no exception
        assert any(permissions(sentence.swapcase()) for sentence in about), words
