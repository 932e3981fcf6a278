"""What a film says of the dish as a whole: its name, how much it makes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.draft.scenes import Scene, rows
from pipeline.film.spoken.atoms import word_set
from pipeline.film.transcript import Transcript

# A dish is named near the beginning, and with few words.
_WITHIN, _MOST = 0.25, 8
# A dish named in the first seventh of a film counts as if it were named so many times more.
_EARLY = 4
_END = word_set("""
    and which that it it's this is for so because with from in on at but or you your i we they if as to by
    like when where who today now then okay all have will has was are i've i'm there's there here tonight
    wait how today tonight day quick list recipes was recipe gets comes takes makes uses goes needs wants feeds serves
    """)
_GO_ON = frozenset(["and", "with", "in", "on"])
_DULL = word_set("""
    way thing one things kitchen channel show place best least most film video bit stuff
    """)
# Before a dish they tell of no kind. Common practice, no source.
_SAID_OF = frozenset(("crisp", "roast", "toast", "dip", "slice", "slices", "squares", "bars", "bake", "punch"))
_LIKE = frozenset(("like", "colour", "color", "than"))
_NO_KIND = word_set("""
    six seven eight nine ten twelve dozen few
    big little good great own whole proper first other last next same new old hot cold each every no any much more
    make made making bake baked call called like love want wants everybody doing another one's got get give
    """)
_KINDS = 2  # words before a dish that may tell its kind
_SIDE = frozenset(("to go with", "to go on", "on the side", "for the side", "for afterwards"))
_FILLER = word_set("""
    a an the my our some your very really actually just this that these those nice lovely beautiful
    favourite favorite called making baking cooking
    """)
_MEASURES = word_set("""
    cup cups teaspoon teaspoons tablespoon tablespoons gram grams ounce ounces pound pounds half quarter
    quarters third thirds two three four five six minutes hour hours enough same last first end
    """)
_SMALL = word_set("and with in on of for the a or")
_YIELD = re.compile(
    r"\b(?:(?P<serves>serves|feeds|enough for|dinner for|supper for)|(?P<makes>makes|gives you|you get|get you))"
    r" (?:about |around |roughly )?(?P<number>\d+|two|three|four|five|six|seven|eight|nine|ten|twelve|sixteen"
    r"|twenty four|twenty|thirty|forty|fifty|sixty|a dozen|two dozen)(?: (?P<what>[a-z-]+))?"
)
_MADE = word_set("""
    loaves loaf rolls buns cookies muffins pancakes portions slices squares bars jars cups servings people
    pieces biscuits scones pies tarts cupcakes doughnuts bagels pizzas flatbreads wraps tacos dumplings
    """)


_FIGURES = {
    "a dozen": 12, "two dozen": 24, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "twelve": 12, "sixteen": 16, "twenty": 20, "twenty four": 24, "thirty": 30, "forty": 40,
    "fifty": 50, "sixty": 60,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Guess:
    """A guessed value, the words it rests on, and when they were said (ms)."""

    text: str
    words: str
    at: int


@cache
def _dishes() -> frozenset[str]:
    return frozenset(bare(word) for row in rows("dishes.txt") for word in row)


def title_of(transcript: Transcript, scenes: Sequence[Scene], foods: frozenset[str]) -> Guess | None:
    """The dish's name, from the words that announce it; None where none do.

    ``foods``: words that name an ingredient in this film.
    """
    return _announced(transcript, scenes, foods) or _tonight(transcript, scenes, foods)


def _tonight(transcript: Transcript, scenes: Sequence[Scene], foods: frozenset[str]) -> Guess | None:
    """ "One-pot chicken and rice tonight.": a short sentence that is the dish's name."""
    for scene in scenes:
        if scene.start - scenes[0].start > _WITHIN * (scenes[-1].end - scenes[0].start):
            return None
        words = list(scene.plain)
        if words[-1:] not in (["tonight"], ["today"]) or not 1 < len(words) <= _MOST:
            continue
        while words and words[0] in _FILLER | {"so", "it's", "right", "now", "and", "okay", "well"}:
            words.pop(0)
        known = any(word in foods or word in _dishes() for word in words)
        if known and not any(w in stop_words() - _GO_ON or w in _DULL for w in words[:-1]):
            said = " ".join(word.text for word in transcript.words[scene.first : scene.last])
            return Guess(titled(words[:-1]), said, scene.start)
    return None


def most_named(transcript: Transcript, foods: frozenset[str]) -> Guess | None:
    """The dish that is named most, counted more where it is named early, with the food that stands before it twice;
    None where none is named early or twice."""
    plain = [bare(word.text) for word in transcript.words]
    spots = [
        i
        for i, word in enumerate(plain)
        if word in _dishes()
        and not _LIKE & set(plain[max(i - 2, 0) : i])  # "the colour of toffee"
        # "apple crisp", but not "crisp on that side"
        and (word not in _SAID_OF or (i and plain[i - 1] in foods and transcript.words[i - 1].text[-1:] not in ",.;:"))
    ]
    said = Counter(plain[i] for i in spots)
    early = {plain[i] for i in spots if i < max(len(plain) // 7, 1)}
    often = {
        word: count + (_EARLY if word in early else 0) for word, count in said.items() if count > 1 or word in early
    }
    if not often:
        return None
    dish = max(often, key=lambda word: often[word])
    places = [i for i in spots if plain[i] == dish]
    before = Counter(plain[i - 1] for i in places if i and plain[i - 1] in foods and plain[i - 1] not in stop_words())
    food = next((word for word, count in before.most_common(1) if count > 1), None)
    first = transcript.words[places[0]]
    at = next((i for i in places if food and plain[i - 1] == food), places[0])
    kind = _kind_before(transcript, plain, at) or ([food] if food else [])
    return Guess(titled([*kind, dish]), _times(dish, said[dish]), first.start)


def _kind_before(transcript: Transcript, plain: Sequence[str], at: int) -> list[str]:
    """The words that tell of which kind a dish is where it is named first: "green tomato" chutney, "fish" pie."""
    kind: list[str] = []
    for i in range(at - 1, max(at - 1 - _KINDS, -1), -1):
        word = plain[i]
        dull = word in stop_words() or word in _FILLER | _END | _DULL | _MEASURES | _NO_KIND
        if dull or not word.isalpha() or transcript.words[i].text[-1:] in ".,;:!?":
            break
        kind.insert(0, word)
    return kind


def _times(dish: str, count: int) -> str:
    return f"{dish}, named {count} times" if count > 1 else dish


def _announced(transcript: Transcript, scenes: Sequence[Scene], foods: frozenset[str]) -> Guess | None:
    plain = [bare(word.text) for word in transcript.words]
    if not scenes:
        return None
    opened, length = scenes[0].start, scenes[-1].end - scenes[0].start
    best: tuple[float, Guess] | None = None
    for order, phrase in enumerate(rows("names.txt")):
        size = len(phrase)
        for i in range(len(plain) - size):
            at = transcript.words[i].start
            if at - opened > _WITHIN * length:
                break
            if plain[i : i + size] != phrase:
                continue
            name, end = _name(transcript, plain, i + size)
            known = any(word in foods or word in _dishes() for word in name)
            strong = phrase[0] in ("today", "tonight") and phrase[-1] in ("making", "baking", "cooking", "you")
            if not (known or (strong and 0 < len(name) < 4)) or _MEASURES & set(name):
                continue  # "this is The Tin Whisk"
            worth = 10 - order * 0.2 - (at - opened) / max(length, 1) * 40 + min(len(name), 4) * 2
            if _SIDE & {" ".join(plain[end : end + 3]), " ".join(plain[end : end + 2])}:
                worth -= 8  # "and a slaw to go on top"
            if best is None or worth > best[0]:
                words = " ".join(w.text for w in transcript.words[i:end])
                best = worth, Guess(titled(name), words, at)
    return best[1] if best else None


def _name(transcript: Transcript, plain: Sequence[str], i: int) -> tuple[list[str], int]:
    """The name's words from word ``i`` on, and where they end."""
    words: list[str] = []
    while i < len(plain) and plain[i] in _FILLER:
        i += 1
    while i < len(plain) and len(words) < _MOST:
        word = plain[i]
        following = plain[i + 1] if i + 1 < len(plain) else ""
        joins = word in _GO_ON and words and following not in _END and following not in stop_words()
        if not word or not word[0].isalpha() or (word in _END and not joins):
            break
        words.append(word)
        if transcript.words[i].text[-1:] in ".,;:!?":
            break
        i += 1
    i += 1 if i < len(plain) and words and plain[i] == words[-1] else 0
    while words and words[-1] in _SMALL | stop_words():
        words.pop()
        i -= 1
    if not words or any(w in _DULL for w in words) or all(w in stop_words() for w in words):
        return [], i
    return words, i


def titled(words: Sequence[str]) -> str:
    """The words with capitals, as a title has them."""
    return " ".join(w if n and w in _SMALL else w[:1].upper() + w[1:] for n, w in enumerate(words))


def yield_of(scenes: Sequence[Scene]) -> Guess | None:
    """How much the recipe makes, where it was said so."""
    for scene in scenes:
        text = " ".join(scene.plain)
        m = _YIELD.search(text)
        if m is None or scene.stance in ("asked", "instead"):
            continue
        number, what = _FIGURES.get(m["number"], m["number"]), m["what"] or ""
        if m["serves"]:
            return Guess(f"serves {number}", text[m.start() : m.end("number")], scene.start)
        if what in _MADE or what in _dishes():
            return Guess(f"{number} {what}", m[0], scene.start)
    return None


def capitals_of(transcript: Transcript) -> dict[str, str]:
    """The words that captions write with a capital in the midst of a sentence, more often than not: "Dijon"."""
    high: Counter[str] = Counter()
    low: Counter[str] = Counter()
    cased: dict[str, str] = {}
    for one, word in pairwise(transcript.words):
        text = word.text.strip('.,;:!?"“”')
        if one.text[-1:] in ".?!:" or not text.isalpha() or text.upper() == text:
            continue
        if text[:1].isupper():
            high[text.lower()] += 1
            cased[text.lower()] = text
        else:
            low[text] += 1
    return {word: cased[word] for word, count in high.items() if count > low[word]}
