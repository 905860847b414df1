"""What no sentence about the baths before and after the etch may promise or make little of.

Developer and stripper are lye; the tin bath holds thiourea. No page knows a film, a lamp or a
board, so none says minutes or a thickness of tin, and no recipe stands anywhere.
"""

import re

from .rules import Rule

FILM_PARTS = {
    "word": (
        r"(?:an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty"
        r"|forty|sixty|ninety|half an?|a few|several|a couple of|another|some)"
    ),
    "figure": r"(?:\d[\d.,]*|<word>)",
    "span": r"<figure>(?: ?(?:to|or|and|–|-|…) ?<figure>)?",
    # "as" is no second, and "a second array" is no time
    "minutes": (
        r"(?:\d[\d.,]* ?(?:s|sec|secs|min|mins|h(?![+⁺₂]))|quarter of an hour"
        r"|<figure> (?:more )?(?:minutes?|seconds|hours?))"
    ),
    "micron": r"(?:[µμ]m|um|microns?|micromet(?:re|er)s?)",
    "layer": r"<span> ?<micron>",
    "gain": (
        r"(?:gets?|gives?|grows?|reach(?:es)?|makes?|deposits?|builds?|leaves?|puts?|adds?|lays?"
        r"|has|have|brings?|yields?|receives?|plates?|collects?|expect)"
    ),
    "longer": (
        r"(?:longer|more (?:time|minutes)|overnight|another (?:hour|dip)|twice as long|second dip)"
    ),
    "thicker": r"(?:thicker|more tin|twice (?:as thick|the tin)|double the tin|a thick)",
    "alkali": r"(?:lye|NaOH|caustic(?: soda)?|sodium hydroxide|developer|stripper)",
    "soak": r"(?:<alkali>|tin(?:ning)?(?: bath)?)",
    "process": (
        r"(?:<soak>|film|resist|exposure|developing|development|stripping|tinning|lamp|uv|light)"
    ),
    "article": r"(?:(?:the|an?|your|fresh|warm|cold|strong|weak) )*",
    "mass": r"[\d.,]+ ?g(?:rams?)?(?![\w/])",
    "volume": r"(?:[\d.,]+|an?|one|half a|per) ?(?:mL|cl|L|lit(?:re|er)s?)(?!\w)",
    "strength": (
        r"[\d.,]*\d ?(?:g/l|kg/m³|g(?:rams?)? per lit(?:re|er)|%|per ?cent|mol/l"
        r"|m(?:ol|oles?)? per lit(?:re|er)|°[cf]|degrees|celsius|fahrenheit)"
    ),
    "meek": (
        r"(?:mild|gentle|tame|soft|kind|innocent|forgiving|friendly|soapy water|soap|water"
        r"|baking soda|toothpaste|nothing but soda)"
    ),
    "hurt": (
        r"(?:burns?|hurts?|harms?|blinds?|bites?|attacks?|irritates?|stings?|damages?|itch(?:es)?)"
    ),
    "touch": (
        r"(?:dip|feel|swirl|test|touch|rub|fish|pull|lift|stir|take|hold|reach|smooth|wipe|work|rock)"
        r"(?:s|ped|ed|ing)?"
    ),
    "anybody": r"(?:anybody|anyone|everybody|pupils?|child(?:ren)?|pregnant \w+)",
    "after": (
        r"(?:(?:old |spent |used |dead |leftover )*(?:tin(?: bath| waste| rinse| solution)?s?"
        r"|developer|stripper|lye|thiourea|acetone))"
    ),
    "etch": (
        r"(?:etch(?:ing|ant)?(?: bath| tub| waste| tray)?|(?:spent|used|acid) (?:bath|waste|tub)"
        r"|acid)"
    ),
    "unite": (
        r"(?:use up|pour|tip|put|add|mix|empty|combine|collect|throw|stir|unite|gather|keep|store)"
        r"(?:s|ed|ing)?"
    ),
    "with": r"(?:into|to|in|with|and|together with|beside)",
    "tub": r"(?:tub|bottle|canister|bucket|container|jar|jug|drum)",
    "near": r"(?:trays?|baths?|acid|peroxide|etch\w*|unrinsed|bench)",
    "salt": (
        r"(?:thiourea|tin\(ii\)|tin (?:chloride|salt|sulph?ate|sulfate)|stannous chloride|sncl2)"
    ),
    "grams": r"(?:[mk]?g|grams?|%|per cent|(?:tea)?spoon(?:ful)?s?|parts?|pinch)",
}
"""What stands for what in the patterns here."""
MOST = {"g/L": 50.0, "%": 5.0, "mol/L": 1.25, "°C": 50.0, "°F": 122.0}
"""Stronger or warmer lye is no developer and no stripper that anybody is told to mix."""
MASS = r"([\d.,]+) ?g(?:rams?)?\b"
VOLUME = r"([\d.,]+|an?|one|half a|per) ?(ml|cl|l|lit(?:re|er)s?)\b"


def number(text):
    """Read a number as it is written, `1,5` too, or as a word."""
    words = {"a": 1.0, "an": 1.0, "one": 1.0, "per": 1.0, "half a": 0.5}
    return words[text] if text in words else float(text.strip(".,").replace(",", "."))


def is_too_strong(words):
    """Tell whether some words about lye hold more than 50 g/L, or more than 50 °C.

    >>> print(is_too_strong("60 g of lye in a litre"), is_too_strong("1.5 g in 120 ml"))
    True False
    """
    units = {
        "g/L": r"g/l|kg/m³|g(?:rams?)? per lit(?:re|er)",
        "%": r"%|per ?cent",
        "mol/L": r"mol/l|m(?:ol|oles?)? per lit(?:re|er)",
        "°C": r"°c|degrees|celsius",
        "°F": r"°f|fahrenheit",
    }
    for name, unit in units.items():
        for found in re.finditer(rf"([\d.,]*\d) ?(?:{unit})", words):
            if number(found[1]) > MOST[name]:
                return True
    if "spoon" in words or "boiling" in words:
        return True  # nobody knows how much is on a spoon
    litres = {"ml": 1e-3, "cl": 1e-2}
    for found in re.finditer(rf"{MASS}.*?\b{VOLUME}|{VOLUME}.*?\b{MASS}", words):
        grams, volume, unit = (
            found.group(1, 2, 3) if found[1] is not None else (found[6], found[4], found[5])
        )
        if number(grams) > MOST["g/L"] * number(volume) * litres.get(unit, 1.0) * (1 + 1e-9):
            return True
    return False


FILM_RULES = {
    "a thickness of tin": Rule(
        r"""
        <gain>\b[^;:]{0,40}? <layer>
        (?:full|whole|first|next|last) <micron>
        (?:for|to get|to reach|until|wants?|needs?) (?:\w+ ){0,3}?<layer>
        <layer>[^;:]{0,20}? (?:in|after|within) <minutes>
        <longer>\b[^;:]{0,50}? <thicker>
        <thicker>\b[^;:]{0,40}? <longer>
        tin (?:\w+ )?(?:gets?|grows?|becomes?) (?:\w+ )?thick
        """,
        "tin stops by itself once the copper is covered, and nobody knows where on this board",
        unless=r"\b(?:specification|plants?|costs?|would)\b",
        about=r"\b(?:tin|tinned|tinning)\b|\b(?:coating|plating)\b",
    ),
    "tin in micrometres": Rule(
        r"""
        <layer>
        """,
        "any figure is read as a promise, but for where it stops, what it costs and what it weighs",
        unless=r"\b(?:stops? by itself|specification|plants?|costs?|weighs?|m?mol)\b",
        about=r"\b(?:tin|tinned|tinning)\b|\b(?:coating|plating)\b",
    ),
    "minutes for a film": Rule(
        r"""
        <minutes>
        minutes:? <process> <figure>
        """,
        "it is the film, the lamp, its age and how warm it is: a strip exposed in steps tells",
        # how lye ages, first help, test strips, and the etch between developing and stripping
        unless=r"\b(?:dish|beaker|open|(?:half|g/l)(?: \w+)? left|of (?:the|its) lye|eyes?"
        r"|running water|strips? reads?|test strips?|in the etch\w*)\b",
        # resist alone stands in what is said of the etch
        about=r"\b(?:films?|resist (?:dissolves|comes|lifts|peels|is off)|clear of resist"
        r"|develop(?:s|ed|er|ing)?|stripper|stripping|strips?|stripped|lye|caustic|tinned|tinning"
        r"|tin|lamp|exposure|exposes?|exposed|exposing|uv)\b",
    ),
    "strong or hot lye": Rule(
        r"""
        <strength>
        <mass>[^;]{0,60}? <volume>
        <volume>[^;]{0,60}? <mass>
        (?:tea|table)?spoon(?:ful)?s? of <alkali>|boiling <alkali>
        """,
        "lye above 50 g/L or above 50 °C blinds at once and spits: nobody is told to mix it",
        unless=r"\b(?:refused|would)\b",
        about=r"(?=.*\b(?:lye|naoh|caustic|sodium hydroxide|developer|stripper)\b)"
        r"(?=.*\b(?:mix|mixed|dissolves?d?|take|takes|use|make|prepare|stir|weigh|put|add|warm"
        r"|warmed|heat|heated|strips?|stripped|stripping|develops?|works?|best|faster|film|resist"
        r"|off|helps?|try|saves?)\b)",
        counts=is_too_strong,
    ),
    "made little of": Rule(
        r"""
        <alkali>\b[^;:]{0,40}? (?:is|are|stays?|becomes?)(?: \w+){0,3}? <meek>
        (?:mild|gentle|tame|kind|innocent|forgiving|friendly|harmless) (?:\w+ ){0,2}?<alkali>
        (?:does|do|will|can|could|would|did)(?: not|n't| never| hardly| barely) (?:\w+ )?<hurt>
        (?:cannot|can't) (?:\w+ )?<hurt>
        (?:hardly|barely|scarcely|no longer|never|at worst|only) (?:<hurt>|tickles)
        (?:dead|spent|old|used) <alkali> is (?:\w+ ){0,2}?(?:soda|water|carbonate|nothing|done)
        <alkali>\b[^;:]{0,40}? is (?:just|only|nothing but|merely) (?:soda|carbonate|water|salt)
        lost its (?:bite|sting|edge)|feels? like soap|and forgotten
        (?:need not|do not|don't|nothing to) (?:fear|worry)
        too weak to <hurt>|cannot do (?:\w+ )?harm
        (?:is|are) not (?:corrosive|caustic|harmful|aggressive|strong)
        only (?:dangerous|harmful|corrosive) (?:when|if|above)
        nothing (?:serious|bad|to mind)|low (?:in )?toxic\w*
        (?:gloves|goggles)\b[^;:]{0,30}? only (?:if|when|above)
        no (?:goggles|gloves|apron) (?:\w+ ){0,2}?(?:needed|necessary|required)
        weak enough (?:for|to) (?:\w+ ){0,3}?(?:skin|hands?|fingers?|touch|splash|eyes?)
        <alkali>\b[^;:]{0,30}? (?:washes|rinses|wipes) off
        goggles are (?:not needed|optional|overdone|for acid)
        """,
        "lye of any strength burns, and one per cent of it blinds; thiourea harms without a pain",
        no=False,
        about=r"\b(?:lye|naoh|caustic|sodium hydroxide|developer|stripper|thiourea|tin bath)\b",
    ),
    "handled freely": Rule(
        r"""
        without (?:any )?(?:goggles|gloves|protection|eye protection)
        (?:bare|naked|ungloved) (?:hands?|fingers?|skin)
        <touch>\b[^;:]{0,50}? (?:with|by|between|using) (?:\w+ ){0,2}?(?:fingers?|hands?|thumb)
        (?:handle|touch|weigh|scoop|spoon|grind|sieve|taste|smell|sniff)\w* <the>thiourea
        thiourea (?:\w+ )?(?:may|can|could) (?:\w+ )?(?:handled|touched|weighed|kept|used|spooned)
        thiourea\b[^;:]{0,40}? (?:like|as|than) (?:\w+ ){0,2}?(?:salt|sugar|flour|urea|soap)
        thiourea is (?:only|just|merely|an?) (?:\w+ ){0,2}?(?:irritant|salt|fertili[sz]er|powder)
        thiourea\b[^;:]{0,40}? (?:kitchen|pantry|fridge|food|table)
        <anybody>\b[^;:]{0,40}? (?:may|can|could)\b[^;:]{0,30}? (?:thiourea|<soak>)
        """,
        "lye eats eyes and skin; thiourea is suspected of causing cancer and harming the unborn",
        about=r"\b(?:lye|naoh|caustic|developer|stripper|thiourea|tin|tinned|tinning)\b",
    ),
    "waste put together": Rule(
        r"""
        <unite> <the><after>\b[^;:]{0,40}? <with> <the><etch>
        <unite> <the><etch>\b[^;:]{0,20}? <with> <the><after>
        <unite> <the><after>\b[^;:]{0,40}? (?:in|into) one <tub>
        <after> (?:\w+ )?(?:goes|go|joins?|belongs?|mixes|fits|comes) (?:\w+ ){0,5}?<etch>
        <after> (?:is|are|can be|may be) (?:poured|tipped|emptied|added|put) (?:\w+ ){0,3}?<etch>
        (?:same|one|single|common) <tub> (?:\w+ )?(?:for|with|takes|holds|does|will|is)
        <after> and <the><etch>\b[^;:]{0,30}? (?:together|one|same|each other)
        <etch> and <the><after>\b[^;:]{0,30}? (?:together|one|same|each other)
        <etch>\b[^;:]{0,20}? (?:takes?|swallows?|holds?) <the><after>
        <after>\b[^;:]{0,30}? (?:neutrali[sz]\w+|kills?|calms?|tames?) <the>(?:acid|bath|peroxide)
        """,
        "lye in acid boils and spits, thiourea and acetone meet peroxide: each has its own tub",
        about=r"\b(?:lye|naoh|caustic|developer|stripper|thiourea|tin|acetone)\b",
    ),
    "acetone near the bath": Rule(
        r"""
        acetone\b[^;:]{0,70}? <near>
        <near>\b[^;:]{0,70}? acetone
        without rinsing\b[^;:]{0,40}? acetone
        acetone\b[^;:]{0,40}? (?:indoors|kitchen|cellar|stove|flame|heater|radiator|bathroom)
        """,
        "acetone with acid and peroxide makes what explodes, and its vapour burns",
        unless=r"\b(?:away from|far from|explo\w+|catch(?:es)? fire|flash point|risk of mixing)\b",
    ),
    "a recipe for tin": Rule(
        r"""
        <number> ?<grams>(?: of| per litre| a litre|/l)*(?: \w+){0,2} <salt>
        <salt>\b[^;]{0,12}? <number> ?<grams>(?!/mol)
        (?:made?|makes?|brew) (?:\w+ ){0,3}?(?:from|of|with) (?:\w+ )?<salt>
        (?:dissolve|weigh|stir in|add|mix)\b[^;:]{0,50}? <salt>
        """,
        "what a tin bath holds is read from the label of one that was bought",
    ),
}
