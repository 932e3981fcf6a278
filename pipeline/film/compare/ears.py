"""Words of measure that machine captions write as they sound, put right before anything is looked for."""

from __future__ import annotations

from pipeline.film.transcript import Transcript, Word
from pipeline.measure.record import replace

# Two words that are one, and one that is another: only what is nothing else in a kitchen. Common practice, no source.
_JOINED = {
    ("table", "spoon"): "tablespoon", ("table", "spoons"): "tablespoons", ("tea", "spoon"): "teaspoon",
    ("tea", "spoons"): "teaspoons", ("milli", "litres"): "millilitres", ("milli", "liters"): "milliliters",
}  # fmt: skip
_ALONE = {"grahams": "grams", "graham's": "grams", "gramme's": "grams", "oz's": "ounces"}
_ONE_TO_NINE = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_HUNDREDS = {"a": 1, **{word: n for n, word in enumerate(_ONE_TO_NINE, 1)}}


def mended(transcript: Transcript) -> Transcript:
    """The same transcript with those words put right; times and captions stay. The same object where there are none."""
    words: list[Word] = []
    changed = False
    for word in transcript.words:
        text = word.text.lower()
        bare = text.rstrip(".,;:!?")
        before = words[-1] if words else None
        joined = _JOINED.get((before.text.lower(), bare)) if before is not None else None
        if before is not None and joined:
            words[-1] = replace(before, end=word.end, text=joined + text[len(bare) :])
            changed = True
        elif bare in _ALONE:
            words.append(replace(word, text=_ALONE[bare] + text[len(bare) :]))
            changed = True
        else:
            words.append(word)
    figured = _figured(words)
    return replace(transcript, words=tuple(figured)) if changed or len(figured) < len(words) else transcript


def _figured(words: list[Word]) -> list[Word]:
    """Numbers written half in words and half in figures ("a hundred and 50") in figures."""
    result: list[Word] = []
    i = 0
    while i < len(words):
        tail = [w.text.lower() for w in words[i + 1 : i + 4]]
        hundreds = _HUNDREDS.get(words[i].text.lower())
        if hundreds and tail[:1] == ["hundred"]:
            at = 2 if tail[1:2] == ["and"] else 1
            figure = tail[at] if len(tail) > at else ""
            bare = figure.rstrip(".,;:!?")
            if bare.isdecimal() and 0 < len(bare) <= 2 and int(bare):
                last = words[i + 1 + at]
                number = str(hundreds * 100 + int(bare)) + figure[len(bare) :]
                result.append(replace(words[i], end=last.end, text=number))
                i += 2 + at
                continue
        result.append(words[i])
        i += 1
    return result
