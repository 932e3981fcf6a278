"""A step's title from its words: what is done, and to what; "" where nothing says so."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from pipeline.film.draft.scenes import rows
from pipeline.film.spoken.atoms import word_set

_AHEAD = 4  # words between a verb and its object
_NOT_BEFORE = word_set("""
    the a an of some more our your my any no this that good nice little medium high low gas is was be it's
    that's you've i've
    """)
# A verb stands alone only where it is told to be done. Common practice, no source.
_TELLS = word_set("and then now you i we just so let's i'm we're gonna it okay right")
_NEVER = word_set("don't never not cannot can't didn't doesn't won't wouldn't needn't without")
_PARTICLES = word_set("up in over down out on off")
_DETERMINERS = word_set("the your our this that these those all some each every both")
#: Stands in a step's words where a comma or a full stop does.
STOP = ","
# Behind these words another phrase begins: "brush that with water" does nothing to the water.
_BREAKS = frozenset((STOP,)) | word_set(
    "with in into on onto and until till so for from over to at through under then or while when"
)
# Verbs that are kinds of food, too: "brown sugar". Common practice, no source.
_KINDS = frozenset(("Brown", "Cream", "Salt", "Warm", "Cool", "Roast", "Toast", "Stuff", "Beat"))
# What is left over is kept, and what may be done is not done now. Common practice, no source.
_LATER = word_set("keep keeps can could if leftovers tomorrow days within")
# What "it" never is.
_DUST = word_set("flour water oil salt sugar butter pepper milk vinegar juice juices sauce")
_THINGS = word_set("""
    oven pan pot tin tray skillet jars jar pastry vegetables onions onion meat eggs seeds tomatoes potatoes
    fruit water lid edges
    """)
# A vessel is washed, heated and filled, and fried it is not. Common practice, no source.
_VESSELS = word_set("oven pan pot tin tray skillet jars jar lid")
_FOR_VESSELS = frozenset(
    [
        "Preheat",
        "Heat",
        "Warm",
        "Cover",
        "Line",
        "Fill",
        "Wash",
        "Rinse",
        "Brush",
        "Cool",
        "Seal",
        "Deglaze",
        "Pack",
        "Dust",
        "Layer",
    ]
)
# Verbs that are done to a dough where the film has one.
_DOUGH = frozenset(("Knead", "Roll", "Shape", "Stretch", "Flatten", "Divide", "Fold"))
# What "it" is with these is the whole dish.
_WHOLE = frozenset(("Taste", "Serve", "Bake", "Roast", "Chill", "Freeze", "Cool"))
_INGREDIENT = re.compile(r"\{([^{}\d][^{}]*)\}")
_HEAT = re.compile(r"\{(?:about )?(?:gas mark \d+|\d+(?: to \d+|-\d+)? [FC])\b[^{}]*\}")
_TIME = re.compile(r"\{(?:about )?(?:[\d ]+(?:to [\d ]+)?(?:min|h|s|days?)\b[^{}]*|overnight)\}")


def step_title(cooking: Sequence[Sequence[str]], text: str, things: set[str]) -> str:
    """A verb and what it is done to; else the oven's, the fridge's or the pan's work; else the ingredients that come
    in; else a verb alone. ``cooking``: the step's sentences, bare, with STOP; ``things``: names of this dish."""
    names = things | _THINGS
    cooking = [_no_negated(words) for words in cooking]
    alone = spoken = ""
    for words in cooking:
        for i, word in enumerate(words):
            verb: str = _verbs().get(word, "")
            # "the rest", "off the heat" are no doing
            if not verb or (i and words[i - 1] in _NOT_BEFORE):
                continue
            told = i == 0 or words[i - 1] in _TELLS or words[i - 1] == STOP
            if told:
                alone = alone or verb
            spoken = spoken or verb
            thing = _object(words, i, names, verb, told)
            if thing and (thing not in _VESSELS or verb in _FOR_VESSELS):
                return f"{verb} the {thing}"
    used = list(dict.fromkeys(_plain(m) for m in _INGREDIENT.findall(text)))
    short = [name for name in used if name and name != "overnight" and not name.startswith(("about ", "gas "))][:3]
    if not short and (place := _by_place(text)):
        return place
    if short:
        title: str = ", ".join(short[:-1]) + (" and " if len(short) > 1 else "") + short[-1]
        return title[:1].upper() + title[1:]
    return alone or (spoken if _HEAT.search(text) or _TIME.search(text) else "")


def _no_negated(words: Sequence[str]) -> list[str]:
    """The words without what is not to be done: "don't you dare pour it off"."""
    kept: list[str] = []
    negated = False
    for word in words:
        negated = word in _NEVER or (negated and word != STOP and word not in ("and", "but", "just"))
        if not negated:
            kept.append(word)
    return kept


def _plain(mark: str) -> str:
    """An ingredient's mark without its amount and its part of the dish: "flour"."""
    name = mark.split(":")[0]
    return re.sub(r"^(?:head|zest|juice|bunch) of ", "", name).split(" of ")[0]


def _by_place(text: str) -> str:
    """What a heat or a time means where nothing else is said of it, by the place in its sentence."""
    for sentence in re.split(r"(?<=[.?!])\s+", text):
        words = set(re.findall(r"[a-z']+", sentence.lower()))
        heat, time = bool(_HEAT.search(sentence)), bool(_TIME.search(sentence))
        if words & _LATER:
            continue
        if "oven" in words and heat and not time:
            return "Heat the oven"
        if "oven" in words and time:
            return "Roast" if "roast" in words else "Bake"
        if {"fridge", "refrigerator", "icebox"} & words and time:
            return "Chill"
        if "freezer" in words and time:
            return "Freeze"
    return ""


def _object(words: Sequence[str], i: int, names: set[str], verb: str, told: bool) -> str:
    """What the verb at ``i`` is done to, by a noun that names something of this dish; "" where none does. ``told``:
    it surely is a verb here."""
    j = i + 1
    if j < len(words) and words[j] in _PARTICLES:
        j += 1
    if j >= len(words):
        return ""
    if words[j] in ("it", "them", "that") and (j + 1 == len(words) or words[j + 1] not in names):
        if verb in _DOUGH and "dough" in names:
            return "dough"
        near = (w for w in reversed(words[:i]) if w in names and w not in _verbs() and w not in _DUST)
        return "" if verb in _WHOLE else next(near, "")
    if words[j] not in _DETERMINERS:
        plain = told and verb not in _KINDS and words[j] in names and words[j] not in _verbs()
        return words[j] if plain else ""
    end = next((k for k in range(j + 1, len(words)) if words[k] in _BREAKS), len(words))
    found = [k for k in range(j + 1, min(j + 1 + _AHEAD, end)) if words[k] in names]
    # "the orange syrup": the last of the names that stand together
    return words[found[0] + 1] if len(found) > 1 and found[1] == found[0] + 1 else words[found[0]] if found else ""


@cache
def _verbs() -> dict[str, str]:
    # TITLE word word …: each word and its title
    return {word: row[0] for row in rows("verbs.txt") for word in row[1:]}
