"""Law: no sentence promises tin, gives minutes for a film, makes little of lye, or joins wastes.

The sentences here are invented. That none like them stands in the files or on a page is read by
`test_permissions.py` and `lesson/test_pages.py`, which ask every rule.
"""

import pytest
from helpers.film_rules import FILM_RULES, is_too_strong
from helpers.permissions import permissions

FORBIDDEN = {
    "a thickness of tin": (
        "You get 2 µm of tin.",
        "The bath gives 1 µm of tin in ten minutes.",
        "Leave it in the tin bath and it builds up to 3 µm.",
        "The tin is 1.2 µm thick by then.",
        "After an hour the coating reaches 1.5 micrometres.",
        "Twice as long makes the tin twice as thick.",
        "A second dip gives a thicker coating of tin.",
        "For 2 µm of tin warm the bath a little.",
        "Tin grows by 0.1 µm per minute.",
        "Thicker tin comes if you leave it overnight.",
        "Your board has at least 1 µm of tin then.",
        "Expect 0.8 microns of tin on each trace.",
        "0.1 µm of tin per minute.",
        "1 µm of tin in ten minutes: so it goes.",
        "1 µm of tin is guaranteed.",
        "A layer of tin of 1 µm is guaranteed.",
        "This tin bath does not stop before 2 µm, so you get 2 µm.",
    ),
    "minutes for a film": (
        "Develop for two minutes.",
        "90 seconds in the developer are enough.",
        "Etch resist strips in 3 min.",
        "The film comes off after 5 minutes.",
        "Leave the board in the developer for 1 to 2 minutes.",
        "Expose the film for 8 minutes under the lamp.",
        "Developing takes about 90 s.",
        "The stripper needs 3 to 5 min at 40 °C.",
        "Exposure: 4 minutes with a lamp of this kind.",
        "Dip it for ten minutes into the tin bath.",
        "Give it another minute in the lye.",
        "The developer is done within a minute.",
        "A minute or two is enough for the film to develop.",
        "Keep it in the tin bath for a quarter of an hour.",
        "Half a minute of UV hardens the film.",
        "It develops in 0 s.",
        "Lamp: 4 minutes.",
        "Two minutes are enough for the film.",
        "Two minutes is what the film wants.",
        "A minute or two will develop it.",
        "With a strip exposed in steps you see that it develops in 60 seconds.",
        "It does not matter: develop it for 2 minutes.",
    ),
    "strong or hot lye": (
        "Lye of 80 g/L strips it in no time.",
        "Mix 100 g of lye into a litre of water.",
        "For old film take 10 g of NaOH in 100 mL of water.",
        "Warm the stripper to 60 °C.",
        "At 70 °C the lye takes the film off at once.",
        "Use caustic soda of 10 % to get the film off.",
        "Dissolve 30 g of lye in half a litre.",
        "A stripper of 2 mol/L of NaOH works best.",
        "Developer that is heated to 140 °F works faster.",
        "Into 500 mL of water stir 40 g of caustic soda for the stripper.",
        "Not 20, but 75 g/L of lye strips it.",
    ),
    "lye made little of": (
        "Lye of 1 % does not burn.",
        "So weak a developer is as mild as soap.",
        "Developer is only soapy water.",
        "Developer is gentle to skin.",
        "Spent developer is nothing but soda.",
        "Old developer is carbonate.",
        "Dead developer cannot burn any more.",
        "At 10 g/L lye hardly irritates.",
        "The lye is weak enough for bare skin.",
        "Stripper washes off easily.",
        "With developer goggles are not needed.",
        "Lye like this only itches.",
        "A harmless lye of 10 g/L will do.",
    ),
    "handled freely": (
        "Thiourea may be handled like any salt.",
        "Thiourea may be handled by all.",
        "Thiourea keeps as well as salt.",
        "Weigh thiourea on a letter balance.",
        "Bare hands are usual with developer.",
        "Thiourea is no worse than table salt.",
        "Weigh the thiourea on the kitchen table.",
        "Fish the board out of the tin bath with your fingers.",
        "Rock the board in the developer with bare hands.",
        "The tin bath can be used without gloves.",
        "Anybody can use the tin bath.",
        "Pupils may touch thiourea when it is dry.",
        "Thiourea is just an irritant.",
        "Rub the film off in the stripper with your thumb.",
        "Children can rock the board in the developer.",
        "Keep the thiourea in the kitchen cupboard.",
    ),
    "waste put together": (
        "Pour the old developer into the etching bath.",
        "Put the used bath with the old developer.",
        "Old developer is poured into the acid.",
        "Spent lye goes into the acid, they cancel out.",
        "The tin bath goes to the etching waste.",
        "Used developer neutralises the acid that is left.",
        "Collect tin waste and developer in one tub.",
        "One bottle takes the lye and the acid.",
        "Tin waste may go into the tub of the etching bath.",
        "Put the stripper and the etchant together.",
        "Add the developer to the used bath.",
        "Thiourea kills the peroxide that is left in the bath.",
    ),
    "acetone near the bath": (
        "Wipe the board with acetone beside the tray.",
        "Straight from the etching bath the film comes off with acetone.",
        "Without rinsing, take the resist off with acetone.",
        "A drop of acetone in the bath does not matter.",
        "Keep the acetone next to the peroxide.",
        "Acetone takes it off over the tray.",
        "Use acetone in the kitchen.",
    ),
    "a recipe for tin": (
        "Dissolve 6 g of tin chloride and 50 g of thiourea in acid.",
        "Tin bath: thiourea 55 g, acid, water.",
        "A spoonful of thiourea starts a tired bath again.",
        "Add some thiourea when the tin turns grey.",
        "Take 55 g of thiourea for it.",
    ),
}
"""Invented sentences, by a rule that must find each."""

FOUND_BY_OTHERS = {
    "a drain": (
        "Old developer goes down the drain with plenty of water.",
        "Rinse water of the tin bath may go into the sink.",
        "The spent tin bath: into the sewer, thinned ten times.",
    ),
    "pouring away": ("Used developer may be poured away.",),
    "safe": (
        "Lye of 10 g/L is harmless.",
        "Such weak developer is safe.",
        "Thiourea is not dangerous in a closed bath.",
        "Spent developer is non-toxic.",
    ),
    "household waste": ("Dried tin waste goes into the household waste.",),
    "no need": ("Developer needs no goggles.", "Thiourea needs no gloves."),
}
"""And some that the rules of the bath find, of developer and tin as well."""

PERMITTED = (
    "No page can say minutes for your film.",
    "Tin stops by itself at 0.3 to 1 µm.",
    "How many minutes it takes depends on the film, the lamp, its age and the exposure.",
    "Minutes are not given: a strip exposed in steps, on an offcut, decides.",
    "Never develop by the clock: watch the film.",
    "1 µm of tin costs 0.87 µm of copper.",
    "Tin stops by itself once the copper is covered: longer does not help.",
    "Longer in the bath does not make the tin thicker.",
    "A specification for plants asks for at least 1.0 µm of tin.",
    "Plants are said to reach 1.15 to 1.3 µm of tin.",
    "The tin that covers 18 cm² of traces, 1 µm thick, would be 0.11 mmol.",
    "No sentence promises a thickness of tin.",
    "1.5 g of lye in 120 mL of water is 12.5 g/L.",
    "Dissolve 1.5 g of lye in 120 mL of water: lye into water, never water onto lye.",
    "Lye of 7 to 15 g/L is said to develop such film.",
    "Strippers are said to be 20 to 50 g/L of lye, at 40 to 50 °C.",
    "Lye above 50 g/L or above 50 °C is refused.",
    "50 g of lye in 100 mL of water would warm it by 90 K, and it would boil.",
    "Never warm the stripper above 50 °C.",
    "After 8 h in the flat dish 6.5 g/L is left: too weak to develop.",
    "Developer that stood open for 8 h holds half of its lye.",
    "After a day in an open dish no lye is left.",
    "Dead developer still burns: goggles.",
    "Lye of 1 % blinds.",
    "Weaker lye is not harmless.",
    "Developer burns skin and eyes, fresh or dead.",
    "The lye that develops one film strips the other.",
    "Old developer and stripper each go to the hazardous-waste site in a tub of their own.",
    "Never lye into a bath or its waste: it gets hot and spits.",
    "Tin waste stands in a tub of its own, never with the etching bath.",
    "Nothing of the tin bath goes down the drain.",
    "Rinse the board before it goes from the developer into the etching bath.",
    "A board that was not rinsed carries peroxide into the tin bath.",
    "Peroxide kills tin, one for one.",
    "Acetone never near acid with peroxide, never on a board that was not rinsed.",
    "Keep acetone away from the bath.",
    "Acetone, acid and peroxide make something that explodes.",
    "Thiourea is suspected of causing cancer and of harming the unborn child.",
    "Nobody who is pregnant uses the tin bath.",
    "No thiourea on bare skin, no dust of it.",
    "Never touch developer, stripper or tin bath with bare hands.",
    "Never work with lye without goggles.",
    "What the tin bath holds is read from its label: no recipe stands here.",
    "Two copper go into solution for each tin, with eight thiourea.",
    # about something else
    "A foil of 1 oz has 34 µm of copper.",
    "Leave it to cool for 5 minutes.",
    "Use peroxide of 12 % from a shop.",
    "Clean water does not burn.",
    "Hold a board by its edges, between two fingers.",
    "One tub holds the rest of a board.",
    # it says no
    "Do not develop for two minutes: watch the film.",
    "Never dissolve 100 g of lye in a litre.",
    "Never pour old developer into the etching bath.",
    "Never add thiourea to a tin bath.",
    # what else it may hold
    "A specification asks for at least 1.0 µm of tin.",
    "To get 1 µm of tin costs 0.87 µm of copper.",
    "To reach 1 µm of tin on 1 m² would take 61 mmol.",
    "Lye in a flat dish is half gone after 8 hours.",
    "In the tall beaker lye is still there after 24 hours.",
    "Developer that stood open is dead after 24 hours.",
    "Of lye of 12.5 g/L half is left after 8 hours.",
    "Rinse lye out of an eye for 30 minutes.",
    "Hold skin with lye on it under running water for 30 minutes.",
    "Leave a board with its film in the etching bath for 4 minutes, then look.",
    "Often a strip reads zero only after 24 h.",
    "Hold a test strip in for 2 seconds.",
    "To strip film with lye of 60 g/L is refused.",
    "To dissolve 100 g of lye in a litre would warm it by 26 K.",
    "Acetone stays far from the tray.",
    "Acetone catches fire from a stove in the next room.",
    "With a flash point of -20 °C acetone lights at a stove.",
    "The risk of mixing dilute hydrogen peroxide and acetone.",
)
"""Sentences of the pages, and others like them, that no rule may find."""


@pytest.mark.parametrize(
    ("rule", "sentence"),
    [
        (rule, sentence)
        for group in (FORBIDDEN, FOUND_BY_OTHERS)
        for rule, sentences in group.items()
        for sentence in sentences
    ],
)
def test_law_a_sentence_that_promises_or_makes_little_is_found(rule, sentence):
    assert rule in [name for name, _ in permissions(sentence)]


@pytest.mark.parametrize("sentence", PERMITTED)
def test_law_a_sentence_that_warns_or_explains_may_stand(sentence):
    assert permissions(sentence) == []


def test_law_every_rule_has_its_sentences_and_says_why():
    assert set(FORBIDDEN) == set(FILM_RULES)
    assert all(len(rule.why) > 20 for rule in FILM_RULES.values())
    assert sum(map(len, FORBIDDEN.values())) >= 40 and len(PERMITTED) >= 25


@pytest.mark.parametrize(
    ("words", "too_strong"),
    [
        ("50 g/l", False),
        ("50.5 g/l", True),
        ("5 g in 100 ml", False),
        ("5.1 g in 100 ml", True),
        ("5,1 g in 100 ml", True),
        ("a litre for 51 g", True),
        ("half a litre and 25 g", False),
        ("half a litre and 26 g", True),
        ("50 °c", False),
        ("51 °c", True),
        ("1.25 mol/l", False),
        ("1.3 mol/l", True),
        ("5 %", False),
        ("6 %", True),
        ("122 °f", False),
        ("130 °f", True),
    ],
)
def test_law_strong_and_hot_begin_where_they_should(words, too_strong):
    assert is_too_strong(words) == too_strong
