"""The questions of "check yourself" that ask why: six settings, with what the package says."""

from __future__ import annotations

from ...page.why import Setting

SETTINGS = (
    Setting(
        "Two people mix 1 part of acid and 1 part of peroxide. One bath is far weaker. Why?",
        (
            "Their bottles are of other strengths.",
            "Parts say how much of a bottle, and nothing of what is in it.",
        ),
        (
            (
                "One of them poured the peroxide first.",
                "The end is the same, but with strong bottles the wrong order is dangerous.",
            ),
            (
                "One of them took larger parts.",
                "Both liquids then grow alike: the mixture is as strong as before.",
            ),
            ("Parts are never exact.", "A little off makes a bath a little weaker, not far."),
        ),
        "A part is a volume. What is in it depends on the bottle.\n"
        "So a ratio without strengths is no recipe.",
    ),
    Setting(
        "One part of 10 % acid and one part of 3 % peroxide. Why does the mixture hold about 5 % "
        "acid, not 10 %?",
        (
            "The peroxide brings no acid: two parts share the acid of one.",
            "Whatever else is in it dilutes the acid, as water does.",
        ),
        (
            (
                "The acid reacts with the peroxide.",
                "Not so weak: it is spread over twice the volume. (Strong ones give chlorine.)",
            ),
            ("Acid evaporates while it is poured.", "A little fumes off. That is not half of it."),
            (
                "10 % and 3 % are added and shared: 6.5 %.",
                "They are shares of two different things and do not add.",
            ),
        ),
        "The acid of one part is now in two parts.\n"
        "Half of 10 % is 5 %, for both parts weigh about the same.",
    ),
    Setting(
        "A bottle says “20 volumes”. Why is that not 20 %?",
        (
            "Volumes count litres of oxygen from a litre: 20 are about 6 %.",
            "It is another scale, as °F is to °C.",
        ),
        (
            ("The other 80 % are water.", "Nearly 94 % of it are water."),
            ("20 volumes are 20 mL in 100 mL.", "They are gas, not liquid."),
            (
                "Half of the oxygen stays in the water.",
                "It does: half stays in the water that is left. Even so 20 is no share.",
            ),
        ),
        "20 L of oxygen are 0.9 mol; two peroxide give one oxygen: 1.8 mol in a litre.\n"
        "1.8 mol weigh 61 g, and a litre weighs 1019 g: about 6 %.",
    ),
    Setting(
        "Of two bottles of acid, one says 10 % by weight, the other 10 g in 100 mL. Which is "
        "stronger, and why?",
        (
            "The one by weight: 100 mL of it weigh more than 100 g.",
            "In 100 mL of it there are 10.5 g.",
        ),
        (
            ("The one by volume: a gram is more than a millilitre.", "They cannot be compared so."),
            (
                "Neither: 10 % is 10 %.",
                "100 mL of acid weigh about 105 g: 10 g are less of that than of 100 g.",
            ),
            (
                "The one by volume: acid is lighter than water.",
                "Acid is heavier: a litre of it weighs 1047 g.",
            ),
        ),
        "A litre of acid of 10 % by weight weighs 1047 g, so 100 mL hold 10.5 g of HCl.\n"
        "Of the other 100 mL hold 10 g: it is 9.6 % by weight.",
    ),
    Setting(
        "Of a mild bath somebody leaves out one part of water, and takes one part more of 3 % "
        "peroxide. Why is the acid no stronger?",
        (
            "That part is nearly all water: it dilutes the acid as much.",
            "97 % of it by weight.",
        ),
        (
            (
                "Peroxide and acid must be in equal parts.",
                "Nothing asks for that. Look at what is in the bottle.",
            ),
            (
                "Peroxide eats up the acid.",
                "Without copper it leaves nearly all of it. It is the water that counts.",
            ),
            (
                "Without water it does not mix.",
                "It mixes. But strong acid needs water first, always.",
            ),
        ),
        "There are as many parts as before, and one of them holds the acid.\n"
        "Its name is peroxide; what one pours is water with a little in it.",
    ),
    Setting(
        "A label says 12 % peroxide, but the bottle is three years old. What can be said of the "
        "bath?",
        (
            "It may be weaker: peroxide fades, and only a measurement says how far.",
            "The page reckons with 85 to 100 % of the label; an old bottle may hold less.",
        ),
        (
            ("Nothing changes: labels are guaranteed.", "Peroxide falls apart by itself, slowly."),
            (
                "It is stronger: water evaporates first.",
                "A vented cap lets out oxygen above all.",
            ),
            (
                "It holds 12 %, but less of it.",
                "What falls apart leaves water behind: the share gets smaller.",
            ),
        ),
        "Peroxide falls apart into water and oxygen, in the bottle too.\n"
        "So a label is a claim. The gas of a little, diluted to 3 % or less first, tells what is "
        "left.",
    ),
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
