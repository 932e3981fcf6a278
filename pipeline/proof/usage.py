"""Where each listed ingredient is used: by its mark, in plain words, or with its whole component."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.proof.finding import Bench
from pipeline.proof.names import Mentions, Place, words
from pipeline.proof.prose import flat
from pipeline.recipe.model import ComponentUse, IngredientLine, Prose, Use


class Usage(NamedTuple):
    """One ingredient line and its uses.

    ``marks`` are (step's index, mark) in cooking order; ``worded`` the steps whose plain words speak of it (with its
    name, a verb made of it, or a word such as "everything"); ``whole`` is True where its component is used without
    a step of its own.
    """

    place: Place
    line: IngredientLine
    marks: tuple[tuple[int, Use], ...]
    worded: tuple[int, ...]
    whole: bool


class _Seen:
    __slots__ = ("marks", "whole", "worded")

    def __init__(self) -> None:
        self.marks: list[tuple[int, Use]] = []
        self.worded: list[int] = []
        self.whole = False


def usages(bench: Bench) -> list[Usage]:
    """One for each ingredient line, in the order of the list."""
    recipe = bench.recipe
    mentions = bench.once(Mentions)
    seen = {Place(c, n): _Seen() for c, part in enumerate(recipe.components) for n in range(len(part.ingredients))}
    working = {step.component for step in recipe.steps}
    idle = {
        c: (frozenset(words(part.key)), words(part.title or part.key)[-1])
        for c, part in enumerate(recipe.components)
        if c not in working and words(part.key) and words(part.title or part.key)
    }
    for index, step in enumerate(recipe.steps):
        plain = f"{step.title}. "
        for piece in step.pieces:
            match piece:
                case Use(component=int(c), line=int(n)):
                    seen[Place(c, n)].marks.append((index, piece))
                    plain += " ¶ "
                case ComponentUse(component=c):
                    _named_with(seen, c, bench, everything=c not in working)
                case Prose():
                    plain += str(piece.text)
                case _:
                    plain += " ¶ "
        for place in mentions.of(plain, step.component):
            seen[place].worded.append(index)
        for c in _called(idle, flat(step, recipe).text) if idle else ():
            _named_with(seen, c, bench, everything=True)
    return [
        Usage(p, recipe.components[p.component].ingredients[p.line], tuple(s.marks), tuple(s.worded), s.whole)
        for p, s in seen.items()
    ]


def _named_with(seen: dict[Place, _Seen], component: int, bench: Bench, everything: bool) -> None:
    """A component's name stands for all its ingredients, or, where it has steps, for the one it is called after."""
    part = bench.recipe.components[component]
    called = set(words(part.title)) | set(words(part.key))
    for place, one in seen.items():
        if place.component == component and (everything or called & set(words(part.ingredients[place.line].name))):
            one.whole = True


def _called(idle: dict[int, tuple[frozenset[str], str]], text: str) -> list[int]:
    """Which components without a step of their own a step calls by name in plain words ("brush with the glaze")."""
    said = set(words(text))
    return [c for c, (key, last) in idle.items() if last in said or key <= said]
