"""What no sentence may permit: a drain, a room, a kitchen hood, a closed bottle, neutralising, and
no promise and no recipe for the baths before and after the etch.

A rule is patterns and how a sentence may hold one of them all the same: with a word that says no in
the same clause, with other words in the sentence, or not at all. `permissions` reads a text
sentence by sentence and lists what it permits. The rules stand in `bath_rules` and `film_rules`.
"""

import functools
import html
import re

from .bath_rules import BATH_RULES
from .film_rules import FILM_PARTS, FILM_RULES
from .rules import PARTS

RULES = {**BATH_RULES, **FILM_RULES}
MEANS = {**PARTS, **FILM_PARTS}
"""What each name in brackets stands for."""
FILLED = "0"
"""What stands where a program puts a number or words into a sentence."""
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
    r"|\bno (?:longer|more than|less than|later than|sooner|doubt|need|reason|fuss|worse)\b"
    r"|\bnot (?:\w+ )?longer than\b|\bno matter (?:how|what|when|where|whether|if)\b"
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
    after = SAYS_NOTHING.sub(" ", text[hit.end() :])
    if text.endswith("?") and ASKS.search(before):
        return True
    return no_before(before) or bool(NO_SAID_AFTER.search(after))


def filled(pattern):
    """Return a pattern with what its names in brackets stand for, in small letters."""
    while parts := re.findall(r"<([a-z]+)>", pattern):
        for part in parts:
            pattern = pattern.replace(f"<{part}>", MEANS[part])
    return (
        pattern.replace("NaOH", "naoh")
        .replace("pH", "ph")
        .replace("mL|", "ml|")
        .replace("|L|", "|l|")
    )


@functools.cache
def finder(rule):
    """Return what finds the patterns of a rule in small letters."""
    lines = (line.strip() for line in rule.patterns.strip().splitlines())
    return re.compile(rf"(?<!\w)(?:{'|'.join(filled(line) for line in lines)})(?!\w)")


@functools.cache
def rules_broken_by(sentence):
    """Name the rules that a sentence breaks."""
    for exception in EXCEPTIONS:
        sentence = sentence.replace(exception, "")
    text = sentence.lower()
    broken = []
    for name, rule in RULES.items():
        hits = [hit for hit in finder(rule).finditer(text) if rule.counts(hit[0])]
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
