"""What no sentence about a bath, its air or its rest may permit."""

from .rules import Rule

BATH_RULES = {
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
