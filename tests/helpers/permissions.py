"""What no sentence may permit: a drain, a room, a kitchen hood, a closed bottle, neutralising.

A rule is patterns and how a sentence may hold one of them all the same: with a word that says no in
the same clause, with other words in the sentence, or not at all. `permissions` reads a text
sentence by sentence and lists what it permits.
"""

import functools
import html
import re
from typing import NamedTuple

FILLED = "0"
"""What stands where a program puts a number or words into a sentence."""
PARTS = {
    "number": r"(?:\d[\d.,]*|one|two|three|half an?|an?|some)",
    "measure": (
        r"(?:(?:level |heaped |tea|table)*spoon(?:ful)?s?|[mk]?g|mL|L|mol|moles?|cups?|drops?"
        r"|pellets?|grams?|litres?)(?!/)"
    ),
    # strong alkali, and any that neutralises
    "lye": r"(?:lye|NaOH|caustic(?: soda)?|drain cleaner|sodium hydroxide)",
    "base": (
        r"(?:lye|NaOH|caustic(?: soda)?|drain cleaner|sodium hydroxide|soda|bicarbonate|carbonate"
        r"|lime|chalk|ammonia|base|alkali)"
    ),
    # where people live, store or learn: no open air, and no fume cupboard
    "shelter": (
        r"(?:garage|cellar|basement|bathroom|kitchen|laundry|shed|conservatory|attic|bedroom"
        r"|hallway|classroom|(?:closed |shut |small |large |aired |warm )?room"
        r"|(?:open )?window(?! of its own))"
    ),
    "vessel": (
        r"(?:it|them|baths?|bottles?|jars?|vessels?|containers?|tubs?|canister|bucket|rest|waste"
        r"|lid|cap)"
    ),
    "the": r"(?:(?:the|an?|your|that|any|its|used|old|spent|quiet|glass|full|open|bare) )*",
    "do": (
        r"(?:work(?:ed|ing)?|etch(?:ed|ing)?|mix(?:ed|ing)?|pour(?:ed|ing)?|open(?:ed|ing)?|used?"
        r"|do(?:ne)?|stand|stay|keep|kept|left|leave|stored?)"
    ),
    "fine": r"(?:fine|ok|okay|all right|alright)",
    "enough": (
        r"(?:enough|do|good|suffice|sufficient|suitable|acceptable|right|suited|<fine>"
        r"|(?:a|the) (?:good |right )?place)"
    ),
    "each": r"(?:the|every|each|all|any|its|their|this|that)",
    "little": (
        r"(?:clean|weak|diluted?|thin|little|cold|quiet|old|clear|low|small|mild|pale|pure|neutral)"
    ),
    "add": (r"(?:add|stir|sprinkle|spoon|pour|drop|tip|put|mix|give|strew|trickle|dissolve|throw)"),
    "done": r"(?:stops fizzing|fizzes no|no longer fizz\w*|is neutral|turns blue)",
}
"""What stands for what in the patterns: `<lye>` is each of its names."""


class Rule(NamedTuple):
    """What is looked for, and what lets it stand."""

    patterns: str
    """Regular expressions, a line each, of whole words in small letters."""
    why: str
    no: bool = True
    """Whether it stands beside a word that says no in its clause."""
    unless: str = ""
    """What the sentence may hold instead."""
    about: str = ""
    """What the sentence has to hold for the rule to be about it."""


RULES = {
    "a drain": Rule(
        # battery and drain acid is a bottle, drain cleaner another: neither is a place
        r"""
        drains?(?! (?:acid|cleaner))
        drainage|sewers?|sewage|waste ?water
        toilets?|gutters?|gull(?:y|ies)|plugholes?|(?:wash-?)?basins?
        (?:the|an?|your|any|no|kitchen|down|into|laboratory) (?:kitchen |school )?sinks?
        """,
        "copper kills what lives in water, and gas of peroxide collects in pipes",
    ),
    "pouring away": Rule(
        r"""
        (?:pour|tip|throw|wash|flush|rinse|empt)\w*\b[^,;:.]{0,40}? (?:away|down the)
        flush\w* (?:it|them|everything|the)
        (?:pour|tip)(?:ed)? (?:it|them) out
        """,
        "what is left goes to the site, whatever was done to it",
    ),
    "on the ground": Rule(
        r"""
        (?:on|onto|into|in) <the>(?:ground|soil|garden|lawn|grass|gravel|compost)
        (?:into|in) <the>(?:river|stream|lake|pond|sea)
        """,
        "copper stays in soil and water",
    ),
    "household waste": Rule(
        r"""
        (?<!hazardous )(?:household|domestic|ordinary|general|kitchen|normal) (?:waste|refuse|bin)
        (?:in|into) (?:the|a|your|any) bin
        dustbins?|trash|garbage|rubbish|landfill
        """,
        "bath, rinse water and sludge are hazardous waste, dry or wet",
    ),
    "disposing": Rule(
        r"""
        dispos(?:e|ed|es|ing) of
        get rid of (?:it|them|the|your)
        """,
        "there is one place for what is left",
        unless=r"\b(?:site|collection point)\b",
    ),
    "a kitchen hood": Rule(
        # a fume hood is a fume cupboard
        r"""
        (?<!fume )hoods?
        extractors?
        (?:over|above) the (?:stove|cooker)
        """,
        "it gives the air back, is no acid's, and hangs where people eat",
    ),
    "a room": Rule(
        r"""
        (?:<shelter>|fan|open door|draught)(?: \w+){0,3}? (?:is|are)(?: \w+){0,2}? <enough>
        (?:<shelter>|fan|open door|draught)(?: \w+){0,3}? (?:will|would)(?: \w+){0,2}? <enough>
        an? (?:open |shut |large |small )*(?:garage|kitchen|cellar|shed|window)(?= (?:is|will do)\b)
        <do> (?:\w+ ){0,3}?(?:in|inside|at|by|under|near) <the>(?:\w+ )?<shelter>
        <do> (?:\w+ ){0,2}?indoors
        indoors (?:is|will|if|when|once)
        (?:suffices?|suited|suitable|good) (?:for )?(?:indoors|(?:an? |the |your )?<shelter>)
        """,
        "one spill of strong acid makes any room dangerous, and chlorine has no figure",
    ),
    "ventilation": Rule(
        r"""
        well[- ](?:ventilated|aired)
        (?:enough|good|sufficient|adequate|proper) (?:ventilation|(?:fresh )?air)
        ventilation (?:is|will|would|suffices|keeps|makes)
        open (?:the|an?|all|every) (?:windows?|doors?)
        fans? (?:takes?|removes?|draws?|carr\w+|blows?)
        """,
        "the least of what is breathed is computed: no air is enough by a number",
        unless=r"\bvapour alone\b",
    ),
    "below a limit": Rule(
        r"""
        (?:below|under|within|inside|keeps?(?: to)?|meets?|far from) <each>(?: \w+){0,2} limits?
        """,
        "a limit is for one vapour, a healthy worker and a shift: keeping it permits nothing",
        unless=r"\bvapour alone\b",
        about=r"\b(?:airs?|vapours?|gas(?:es)?|chlorine|hydrogen chloride|breathed?|ppm|exposure"
        r"|outdoors|fumes?|spills?|<shelter>)\b|^\W*(?:it|this|that|all|everything) ",
    ),
    "closing a bath": Rule(
        r"""
        (?:clos(?:e|ed|es|ing)|seal(?:ed|s|ing)?) (?:up |down |tight(?:ly)? )?<the><vessel>
        (?:stopper(?:ed|s)?|cork(?:ed)?|cap|screw(?:ed)?|shut) (?:up |down )?<the><vessel>
        <vessel> (?:\w+ ){0,3}?(?:closed|sealed|stoppered|corked|capped|airtight)
        <vessel> (?:\w+ ){0,3}?shut(?! <shelter>)
        (?:lid|cap|stopper|cork) (?:\w+ ){0,3}?(?:on|shut|down)(?! at once)
        (?:tight|sealing|airtight|firm) (?:lid|cap|bottle|jar)s?
        airtight
        bottle it(?! (?:is|was))
        (?<!a )(?<!the )(?<!your )bottle (?:the|your|a|that|any) (?:\w+ )?(?:bath|rest|waste|liquid)
        (?:store|lock) (?:it|the bath) (?:in a bottle|away|up)
        screw (?:it |the \w+ )?(?:shut|tight|down|on)
        """,
        "it gives off oxygen for days, and closed bottles have burst",
        # what comes of it is told, and who may
        unless=r"\bburst|\bpressure\b|\bwould have to hold\b|\b(?:only|let) the site\b",
    ),
    "neutralising": Rule(
        r"""
        neutrali[sz]e(?! each other| nothing)
        """,
        "it foams over, warms and leaves the copper in it: told as chemistry, for a mole",
        unless=r"\bwould\b|\b(?:if|where|only|unless) the site\b"
        r"|\bto neutrali[sz]e (?:a|one|each) mole\b",
    ),
    "neutralising at home": Rule(
        r"""
        neutrali[sz]\w+\b[^.;:]* (?:yourself|your own|at home)
        neutrali[sz]\w+\b[^.;:]* in <the>(?:<shelter>|tray|sink|bucket|tub)
        (?:you|people|anybody|everybody) (?:may|can|should|must) neutrali[sz]e
        """,
        "nobody at home sees what is left in it",
    ),
    "steps of neutralising": Rule(
        r"""
        <add>\b[^.;]{0,60} <base>\b[^.;]{0,80} (?:until|till|portions?|spoons?|little|slowly)
        <add>\b[^.;]{0,60} <base>\b[^.;]{0,80} (?:to (?:a )?pH|pH (?:is|reads|of)|neutral)
        (?:until|till) (?:it is |the pH |pH )?(?:neutral|(?:is|reads|reaches) \d+)
        <base>\b[^.;]{0,60} (?:until|till) (?:it|the) (?:\w+ )?<done>
        """,
        "steps are done by those who read them",
        # in a titration a drop of the solution is measured, and an indicator tells the end
        unless=r"\b(?:methyl orange|burette|flask)\b",
    ),
    "an amount of lye": Rule(
        r"""
        <number> ?<measure>(?: \w+){0,2} <lye>
        <lye>\b[^.;]{0,30} <number> ?<measure>
        (?:spoons?|pellets?|grams?) of <lye>
        """,
        "lye into acid boils and spits: nobody is told how much",
        no=False,
        # a developer is lye in water, and no acid is near it
        about=r"\b(?:neutrali\w+|acid|bath|waste|spent|rest|copper|pH|left)\b",
    ),
    "safe": Rule(
        r"""
        safe(?:ly)?(?! (?:side|order|beside))
        harmless(?:ly)?|non-?toxic|risk-?free|unproblematic|innocuous|benign
        no (?:known )?(?:danger|hazard|risk|harm|problem|worry|worries)s?
        not (?:dangerous|harmful|toxic|hazardous|an? (?:danger|hazard|risk|problem))
        not known to (?:harm|hurt)
        without (?:any )?(?:danger|risk|harm|worry|fear)
        nothing (?:can|will) happen|nothing to (?:fear|worry)
        """,
        "no number of ours shows that anything is",
    ),
    "fine": Rule(
        r"""
        (?:is|are|be|it's|that's|quite|perfectly|just) <fine>(?! (?:lines?|tracks?|traces?))
        <fine> (?:to|for|in|with)
        """,
        "a mixture is never fine: there is what to take care of",
    ),
    "allowed": Rule(
        r"""
        (?:is|are|be) (?:allowed|permitted|legal|lawful|acceptable|tolerable)
        (?:allowed|permitted|legal) (?:to|in|into|down|at|for|by|indoors|outdoors|everywhere)
        you (?:may|can) (?:now |then |also |always )?(?:pour|close|breathe|drink|tip|flush|mix)
        you (?:may|can) (?:now |then |also |always )?(?:throw|bottle|seal|empty|stay in)
        (?:may|can|could|might) (?:now |then |also )?be (?:poured away|tipped|flushed|closed|sealed)
        (?:may|can|could|might) (?:now |then |also )?be (?:bottled|breathed|emptied|thrown|drunk)
        (?:may|can|could|might) (?:now |then |also )?be (?:mixed indoors|neutrali[sz]ed)
        """,
        "local rules allow, and people who know the site",
        unless=r"\bonly the site\b",
    ),
    "enough": Rule(
        r"""
        <little> enough (?:\w+ )?to (?:be )?(?:pour|clos|breath|tip|flush|throw|work|mix)\w*
        <little> enough (?:\w+ )?to (?:be )?(?:neutrali|keep|kept|store|stay|drink)\w*
        <little> enough (?:\w+ )?to go (?:down|in|into|back|away)
        <little> enough (?:\w+ )?for <the>(?:drain|sink|sewer|bin|bottle|hood|<shelter>)
        """,
        "a strength or a time becomes a permission",
    ),
    "no need": Rule(
        r"""
        (?:needs?|need not|have|has) (?:to )?(?:go|work|be|move)(?: \w+)? (?:outdoors|outside|out)
        speaks? for going out
        needs? no (?:goggles|gloves|apron|face shield|fume cupboard|mask|adult)
        """,
        "goggles, gloves and the open air are never dispensed with",
        no=False,
        about=r"\b(?:not|nobody|no|nothing|never|n't)\b",
    ),
    "a place to live in": Rule(
        r"""
        (?:stays?|comes?|keeps?|done|handled|works?|do it) (?:\w+ ){0,3}?(?:inside|indoors)
        (?:handled|overnight|keeps|do it) (?:\w+ ){0,4}?(?:in|on) the (?:cupboard|classroom)
        in the fridge|in the shower|on the windowsill
        kitchen table is where
        does not matter in <the><shelter>
        """,
        "a bath stands outdoors or in a fume cupboard, whatever its strength",
    ),
    "as good as": Rule(
        r"""
        (?:works?|does) (?:just )?as (?:well|good) as (?:outdoors|outside|a garden|a fume cupboard)
        (?:is|are) (?:just )?as good as (?:outdoors|outside|an? (?:garden|fume cupboard))
        <shelter> works too|has served many
        replaces (?:the|a|any) (?:fume cupboard|goggles|open air)
        """,
        "no other place or thing stands for the open air or a fume cupboard",
    ),
    "drying or binning": Rule(
        r"""
        cat litter|bin the \w+|council tip
        let (?:it|the bath|the rest) (?:evaporate|dry|boil)
        (?:bag|sack|box) out with the rest
        """,
        "a bath dried or soaked up is hazardous waste still, and fumes before it is",
    ),
    "waste called water": Rule(
        r"""
        (?:is|are) (?:just |only |again )?(?:tap|ordinary|salt|plain) water
        tap water again
        under the tap|out in the shower
        only copper
        gardeners spray
        """,
        "what is blue or was blue holds copper, and what is clear does too",
        unless=r"\b(?:eyes?|skin|burns?)\b",
    ),
    "closing in other words": Rule(
        r"""
        cling film|(?:in|into) a drinks? bottle
        squeeze the bottle|let the gas out
        swells before
        (?:strips?|blank)\b[^.;]{0,25}(?:the bath is done|keeps? in the cupboard)
        """,
        "it gives off oxygen for months, and what holds it in bursts",
    ),
    "a nose": Rule(
        r"""
        (?:nose|smell\w*) (?:\w+ ){0,2}?(?:warns?|tells?) you
        (?:sniff|smell) tells
        smells? long before
        """,
        "peroxide has no smell, and a nose tires of chlorine",
    ),
    "an amount of baking soda": Rule(
        r"""
        <number> <measure> of (?:baking soda|chalk|lime)\b[^.;]{0,40} (?:bath|acid|waste)
        (?:adding|stirring in) (?:\w+ )?<base> (?:while|until|till)
        """,
        "nobody is told how to neutralise a bath: it foams over",
        unless=r"\bmole\b|\bwould\b",
    ),
    "a share of a limit": Rule(
        r"""
        (?:third|half|tenth|hundredth|thousandth) of (?:the|a|each|any) limit
        (?:third|half|tenth|hundredth|thousandth) of what (?:workers|people) breathe
        limits? (?:at work )?(?:is|are) far above
        nothing to speak of
        """,
        "a limit is for one vapour, a healthy worker and a shift: far below it permits nothing",
        unless=r"\bvapour alone\b",
    ),
    "belittling": Rule(
        r"""
        no more danger\w* than
        when nothing smells
        (?:does|do) not count (?:it|\w+) as hazardous
        (?:about )?as (?:strong|mild|weak) as (?:vinegar|lemon juice|soap)
        """,
        "likened to food or to clean air, acid with copper is taken for it",
        no=False,
    ),
    "children": Rule(
        r"""
        (?:children|pupils) of (?:\w+|\d+) (?:can|may|could)
        (?:children|pupils) (?:can|may|could) (?:pour|mix|open|etch|handle)
        """,
        "an adult who knows these chemicals opens and pours",
    ),
    "used again": Rule(
        r"""
        (?:makes?|made) (?:the |it )?(?:waste )?ready for
        top it up with (?:fresh )?peroxide
        """,
        "a used bath still works, warms and gives off gas",
        unless=r"\bwould\b",
    ),
}

EXCEPTIONS = {
    "On acid or bath then sodium bicarbonate, from the rim inward, until it stops fizzing": (
        "first help for a small spill: it is caught with cloths and goes to the waste"
    ),
    "Close it there": "a log that is open in a spreadsheet",
    "By its time it looks harmless": "the page goes on: it is not harmless",
}
"""Words that stand although a rule finds them, and what they are about."""

NO = re.compile(
    r"\b(?:never|no|not|nothing|none|nobody|no-one|nor|neither|nowhere|cannot|without|rather than"
    r"|instead of|forbid(?:s|den)?|refuse[sd]?)\b|n't\b"
)
"""Words that say no to what follows in their clause."""
NO_SAID_AFTER = re.compile(
    r"^(?:(?!\b(?:if|when|once|unless|that|which|where|as|it)\b)[^,;:]){0,30}?"
    r"\b(?:is|are|does|do|gets?|takes?|has|have|helps?) (?:never|not|no|nothing|nobody)\b"
    r"|^[^;:]{0,40}\b(?:is|are|counts? as) (?:neither|none)\b"
)
"""And those that say no to what stands before them."""
SAYS_NOTHING = re.compile(
    r"\bnothing (?:but|except|other than|against|wrong|speaks against|to be said against)\b"
    r"|\bnot (?:only|just|merely|forbidden|until then|long|far|wrong|too|so|very|yet)\b"
    r"|\bno (?:longer|more than|less than|later than|sooner|doubt|need|reason|fuss)\b"
    r"|\bno matter (?:how|what|when|where|whether|if)\b"
    r"|\b(?:never|not) (?:mind|more than|worry|hesitate|fear)\b|\bneed(?:s)? not\b|\bwhy not\b"
    r"|\bdo(?:es)? not (?:worry|matter|hesitate|mind|have to)\b|\b(?:nobody|no-one) minds\b"
)
"""Turns of phrase with such a word that say no to nothing."""
NEW_THOUGHT = re.compile(
    r"[;:]|\s[–—]\s|\s-\s|\b(?:but|so|then|therefore|otherwise|hence|instead(?! of))\b"
    r"|(?<!of )(?<!that )\b(?:it|they|you|we|this|everything)"
    r" (?:may|can|could|goes|go|will|is|are|belongs?|takes?)\b"
    r"|\band (?:the|your|this|that|what is|its) ?(?:\w+ ){0,2}?(?:goes|go|may|can|is|are)\b"
    r"|\band (?:pour|tip|flush|close|seal|empty|throw|neutrali|put|add|screw|let|work)\w*\b"
)
"""Where a word that says no ends: what follows is another clause."""
ASKS = re.compile(
    r"(?:^|[:;,] )\W*(?:may|can|could|is|are|does|do|should|would|will|has|have)\b[^:;?]*$"
)
"""Begins a question that yes or no would answer: it permits nothing."""
BEGINS_A_CONDITION = re.compile(
    r"^\W*(?:and |or )?(?:if|once|when|whenever|after|as soon as|until|unless|because|since|where"
    r"|as long as|provided)\b"
)
"""A clause that says when: its no is about the condition."""
HAS_A_VERB = re.compile(
    r"\b(?:goes|go|is|are|may|can|could|will|pour|tip|flush|empty|put|throw|take|takes|keep|let"
    r"|works?|close|seal|neutrali[sz]e|add|belongs?|stir|wash|use|do)\b"
)
"""A piece after a comma that has one is a clause, and else goes on with a list."""
SENTENCE_END = re.compile(
    r"(?<=[.?!])[\"'”’)]*\s+|\s*\n\s*\n\s*|\s*\n(?=\s*(?:[-*|#>]|\d+\.)\s)|\s*\|\s*"
)


def plain(text):
    """Return a text as it is read: without tags, addresses and marks of Markdown."""
    text = re.sub(
        r"</?(?:p|li|div|tr|td|th|h\d|br|summary|option|figcaption)\b[^>]*>", "\n\n", text
    )
    text = html.unescape(re.sub(r"<[^>]+>", "", text))
    text = re.sub(r"\]\([^)\s]*\)", "]", text)
    text = re.sub(r"^>[ \t]?", "", text, flags=re.MULTILINE)
    return re.sub(r"[*`\[\]_]", "", text).replace("\u00a0", " ")


def sentences(text):
    """List the sentences of a text, also of one whose lines are broken.

    >>> print(sentences("> Nothing goes down\\n> the drain. **Never.**\\n\\n- A bath"))
    ['Nothing goes down the drain.', 'Never.', 'A bath']
    """
    parts = (" ".join(part.split()) for part in SENTENCE_END.split(plain(text)))
    return [re.sub(r"^(?:[-#>] ?|\d+\. )+", "", part) for part in parts if re.search(r"\w", part)]


def no_before(text):
    """Tell whether a word says no to what follows this text, in the clause that it ends with."""
    *_, clause = re.split(r"[;:,]", text)
    if BEGINS_A_CONDITION.search(clause):
        # no comma says where the condition ends: "if it is not blue down the drain"
        return bool(re.search(r"\b(?:never|do not|must not|nobody)\b", clause))
    *_, thought = NEW_THOUGHT.split(text)
    pieces = SAYS_NOTHING.sub(" ", thought).split(",")
    for place in range(len(pieces) - 1, -1, -1):
        if NO.search(pieces[place]):
            # the no of a piece that says when is about that piece
            return not BEGINS_A_CONDITION.search(pieces[place])
        if HAS_A_VERB.search(pieces[place]):
            return False
    return False


def says_no(hit, text):
    """Tell whether a sentence says no to what a rule has found in it."""
    inside = SAYS_NOTHING.sub(" ", hit[0])
    if NO.search(inside) and not NO.match(inside):
        # as in "pour nothing away"; "no danger" begins with it
        return True
    before = text[: hit.start()]
    if text.endswith("?") and ASKS.search(before):
        return True
    return no_before(before) or bool(NO_SAID_AFTER.search(text[hit.end() :]))


def filled(pattern):
    """Return a pattern with what its names in brackets stand for, in small letters."""
    while parts := re.findall(r"<([a-z]+)>", pattern):
        for part in parts:
            pattern = pattern.replace(f"<{part}>", PARTS[part])
    return pattern.replace("NaOH", "naoh").replace("pH", "ph").replace("mL|L", "ml|l")


@functools.cache
def finder(rule):
    """Return what finds the patterns of a rule in small letters."""
    lines = (line.strip() for line in rule.patterns.strip().splitlines())
    return re.compile(rf"\b(?:{'|'.join(filled(line) for line in lines)})\b")


@functools.cache
def rules_broken_by(sentence):
    """Name the rules that a sentence breaks."""
    for exception in EXCEPTIONS:
        sentence = sentence.replace(exception, "")
    text = sentence.lower()
    broken = []
    for name, rule in RULES.items():
        hits = list(finder(rule).finditer(text))
        if not hits or not re.search(filled(rule.about), text):
            continue
        if rule.unless and re.search(rule.unless, text):
            continue
        if not rule.no or not all(says_no(hit, text) for hit in hits):
            broken.append(name)
    return tuple(broken)


def permissions(text):
    """List what a text permits: the rule that is broken, and the sentence."""
    return [(name, sentence) for sentence in sentences(text) for name in rules_broken_by(sentence)]
