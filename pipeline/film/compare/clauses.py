"""The words around each time of a step, by which two times of one step are told apart: "brown {10 min}, then simmer
{1 h}"."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from pipeline.film.compare.speech import Around
from pipeline.recipe.model import Prose, Step, TimeMark, Use
from pipeline.recipe.span import Text

# What parts one thing done from the next, in writing and in speech.
_WRITTEN = re.compile(r"[.;:!?]|,|\bthen\b|\band then\b")
_SPOKEN = re.compile(r"\b(?:then|seconds?|minutes?|mins?|hours?|afterwards?|after that|before that)\b")
# So many words of speech on either side still speak of a time. Common practice, no source.
_BEFORE, _BEHIND = 10, 6

Words = Callable[[str], frozenset[str]]


def told_apart(step: Step, among: Sequence[Text], around: Around, words: Words) -> Text | None:
    """The one of a step's times (``among``) that the words around a spoken time fit; None where they fit none, or
    several. Only words that stand beside one time of the step and no other count; ``words`` takes the telling ones."""
    clauses = [(whole, words(text)) for whole, text in _clauses(step)]
    before = " ".join(_SPOKEN.split(around.before)[-1].split()[-_BEFORE:])
    said = words(f"{before} {' '.join(_SPOKEN.split(around.behind)[0].split()[:_BEHIND])}")
    fits: list[Text] = []
    for n, (whole, mine) in enumerate(clauses):
        others = frozenset(word for k, (_, theirs) in enumerate(clauses) if k != n for word in theirs)
        if said & (mine - others):
            fits.append(whole)
    return fits[0] if len(fits) == 1 and fits[0] in among else None


def _clauses(step: Step) -> list[tuple[Text, str]]:
    """Each time of a step with the words of its clause: those before it back to the time before or the beginning of
    the sentence, and those behind it up to where the next thing begins."""
    found: list[tuple[Text, str]] = []
    ahead = ""
    for piece in step.pieces:
        if isinstance(piece, TimeMark):
            found.append((piece.whole, ahead))
            ahead = ""
            continue
        text = str(piece.text) if isinstance(piece, Prose) else str(piece.name) if isinstance(piece, Use) else ""
        if found and not ahead:
            mine, *rest = _WRITTEN.split(text, maxsplit=1)
            found[-1] = (found[-1][0], f"{found[-1][1]} {mine}")
            # "for {10 min} and the garlic for {1 min}": what runs on into the next time may be of either
            ahead = rest[0] if rest else text
        else:
            ahead += text
        ahead = re.split(r"[.!?]", ahead)[-1] or " "
    return found
