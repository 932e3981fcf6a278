"""What happens to the oven in the course of a recipe, told from the words and heats of its steps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal, NamedTuple

from pipeline.measure.heat import is_oven
from pipeline.proof.heats import StatedHeat, heats
from pipeline.proof.phrases import Phrases
from pipeline.proof.prose import Flat, flat, sentence_at
from pipeline.recipe.model import Prose, Recipe
from pipeline.recipe.span import Span

Kind = Literal["preheat", "bake", "cold"]

# Ovens that are no oven, and ovens that nobody heats. Common practice, no source.
_NO_OVEN = Phrases(r"""
    (?:dutch|french|toaster|microwave|pizza|outdoor|wood[- ]fired|tandoor\w*)[- ]ovens?
    oven[- ]?(?:proof|safe|mitts?|gloves?|ready|dried|thermometer|spring|rack|door|light)
""")
_COLD = Phrases(r"""
    (?:cold|unheated) oven
    no need to (?:pre)?heat
    without (?:pre)?heating
    (?:do not|don['’]t) (?:pre)?heat
    oven (?:is |still )?(?:cold|off)
""")
_PROOFING = Phrases(r"""
    (?:turned[- ]off|switched[- ]off|off) oven
    oven(?: turned| switched)? off
    (?:turn|switch)(?:ed)? off the oven
    oven['’]s? (?:residual|light)
    with (?:only |just )?the (?:oven )?light on
""")
_PREHEAT = Phrases(
    r"""
    pre-?heat(?:ed|ing|s)?
    (?:heat|warm|get|turn on|switch on|light|fire up|set|bring|crank)(?: up)?\s+(?:\w+\s+){0,2}oven
    turn(?:ing)? (?:\w+\s+){0,2}oven (?:on|up|to)
    switch (?:\w+\s+){0,2}oven on
    oven (?:should be|is) (?:\w+ )?(?:hot|at|ready)
    oven (?:on )?to (?=\d)
    (?:heat|warm|bring|get) (?:it|them|both|everything)(?: up)? to (?=\d)
    (?:while|as) (?:the oven|it) (?:heats|warms|comes)
    (?:hot|preheated|heated|warm|very hot|moderate) oven
""",
    after=r"(?:\b|(?<=\s))",
)
_INTO = Phrases(r"""
    (?:in|into|inside|to|from)\s+(?:the|a|your|an)\s+(?:(?:very\s+)?(?:hot|preheated|heated|warm|moderate|same)\s+)?oven
""")
# "in the oven to 475 F" heats it, and "put a skillet in the oven and heat it" heats both
_SET_TO = re.compile(r"\s*to\s+\d|\s+(?:on|rack)\b|\s+(?:and|while|as|then) (?:\w+ )?(?:pre-?)?heats?\b", re.IGNORECASE)
_DOWN = re.compile(r"\b(?:lower|reduce|drop|decrease|down|raise|increase)\s+(?:\w+\s+){0,3}$", re.IGNORECASE)
# "Bake for 20 minutes" as an order: at a sentence's or clause's start.
_BAKE = Phrases(
    r"(?P<verb>bake|roast)",
    before=r"(?:^|[.!?:;,]\s*|\b(?:and|then|to|now|or|for)\s+|\n\s*)(?:\w+ly\s+)?",
    after=r"\b(?!\s+(?:sale|time|dish|tin|pan|goods|beans))",
)
_ELSEWHERE = Phrases(r"""
    grill|broiler|griddle|barbecue|campfire|coals|smoker
    air[- ]?fry\w*|machine|microwave
    dry (?:pan|skillet)|stove(?:top)?
    instead|from frozen|reheat\w*|leftovers?
""")
_STOVE = Phrases(r"""
    saucepan|frying pan|wok
    (?:skillet|pan) over
    (?:low|medium|high|medium-high|medium-low) heat
""")


class OvenEvent(NamedTuple):
    """``preheat``: the oven is being heated; ``bake``: something is in it; ``cold``: it is meant to be cold.

    ``offset`` orders events inside a step; ``heat`` is True where the same sentence says how hot.
    """

    kind: Kind
    step: int
    offset: int
    span: Span
    heat: bool


def oven_events(recipe: Recipe) -> list[OvenEvent]:
    """All events in the order of the steps."""
    hot = [h for h in heats(recipe) if h.step is not None and all(is_oven(x) for x in h.heats)]
    found: list[OvenEvent] = []
    for index, step in enumerate(recipe.steps):
        words = flat(step, recipe)
        own = [h for h in hot if h.step == index]
        found += sorted(_in_step(index, words, own, step.span), key=lambda e: e.offset)
    return found


def _in_step(index: int, words: Flat, hot: list[StatedHeat], whole: Span) -> Iterator[OvenEvent]:
    text = _NO_OVEN.sub(lambda m: "_" * len(m.group()), words.text)
    for m in _COLD.finditer(text):
        yield OvenEvent("cold", index, m.start(), _place(words, m.start(), m.end(), whole), False)
    used = [m.span() for m in _INTO.finditer(text) if not _SET_TO.match(text, m.end())]
    for m in _PREHEAT.finditer(text):
        if any(low <= m.start() < high for low, high in used):
            continue  # "into the preheated oven" uses it; who heated it?
        if _DOWN.search(text[: m.start()]):
            continue
        hot_here = _near(hot, text, m.start())
        if hot_here or "oven" in _sentence(text, m.start()).lower():
            yield OvenEvent("preheat", index, m.start(), _place(words, m.start(), m.end(), whole), hot_here)
    for pattern in (_INTO, _BAKE):
        for m in pattern.finditer(text):
            sentence = _sentence(text, m.start() if pattern is _INTO else m.start("verb"))
            if _ELSEWHERE.search(sentence) or _PROOFING.search(sentence) or _COLD.search(sentence):
                continue
            start = m.start() if pattern is _INTO else m.start("verb")
            if start < (words.pieces[0][0] if words.pieces else 0):
                continue  # a title tells what the step does; the step itself tells when
            if pattern is _BAKE and m["verb"].lower() == "roast" and _STOVE.search(sentence):
                continue
            if pattern is _INTO and _SET_TO.match(text, m.end()):
                continue
            yield OvenEvent("bake", index, start, _place(words, start, m.end(), whole), _near(hot, text, start))


def _sentence(text: str, position: int) -> str:
    start, end = sentence_at(text, position)
    return text[start:end]


def _near(hot: list[StatedHeat], text: str, position: int) -> bool:
    """Whether the sentence around a position states an oven's heat."""
    start, end = sentence_at(text, position)
    return any(start <= h.offset < end for h in hot)


def _place(words: Flat, start: int, end: int, whole: Span) -> Span:
    """Where running words stand in the source; the step itself for words of its title."""
    for low, high, piece in words.pieces:
        if isinstance(piece, Prose) and low <= start < high:
            return piece.text.part(start - low, min(end, high) - low)
    return whole
