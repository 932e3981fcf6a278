"""What a film says of the dish as a whole: its name, how much it makes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.draft.scenes import Scene, rows
from pipeline.film.transcript import Transcript

# A dish is named near the beginning, and with few words.
_WITHIN, _MOST = 0.25, 8
_END = frozenset(
    "and which that it it's this is for so because with from in on at but or you your i we they if as to by like "
    "when where who today now then okay all have will has was are i've i'm there's there here tonight was recipe "
    "gets comes takes makes uses goes needs wants feeds serves".split()
)
_GO_ON = frozenset("and with in on".split())
_DULL = frozenset("way thing one things kitchen channel show place best least most film video bit stuff".split())
_FILLER = frozenset(
    "a an the my our some your very really actually just this that these those nice lovely beautiful favourite "
    "favorite called making baking cooking".split()
)
_SMALL = frozenset("and with in on of for the a or".split())
_YIELD = re.compile(
    r"\b(?:(?P<serves>serves|feeds|enough for|dinner for|supper for)|(?P<makes>makes|gives you|you get|get you))"
    r" (?:about |around |roughly )?(?P<number>\d+|two|three|four|five|six|seven|eight|nine|ten|twelve|sixteen|twenty"
    r"|twenty four|a dozen|two dozen)(?: (?P<what>[a-z-]+))?"
)
_MADE = frozenset(
    "loaves loaf rolls buns cookies muffins pancakes portions slices squares bars jars cups servings people biscuits "
    "scones pies tarts cupcakes doughnuts bagels pizzas flatbreads wraps tacos dumplings".split()
)


@dataclass(frozen=True, slots=True)
class Guess:
    """A guessed value, the words it rests on, and when they were said (ms)."""

    text: str
    words: str
    at: int


def title_of(transcript: Transcript, scenes: Sequence[Scene]) -> Guess | None:
    """The dish's name, from the words that announce it; None where none do."""
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
            name = _name(transcript, plain, i + size)
            if not name:
                continue
            worth = 30 - order - (at - opened) / max(length, 1) * 40 + min(len(name), 4) * 2
            if best is None or worth > best[0]:
                words = " ".join(w.text for w in transcript.words[i : i + size + len(name)])
                best = worth, Guess(titled(name), words, at)
    return best[1] if best else None


def _name(transcript: Transcript, plain: Sequence[str], i: int) -> list[str]:
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
    while words and words[-1] in _SMALL | stop_words():
        words.pop()
    if not words or any(w in _DULL for w in words) or all(w in stop_words() for w in words):
        return []
    return words


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
        number, what = m["number"], m["what"] or ""
        if m["serves"]:
            return Guess(f"serves {number}", m[0], scene.start)
        if what in _MADE:
            return Guess(f"{number} {what}", m[0], scene.start)
    return None
