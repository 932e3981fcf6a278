"""Where each listed ingredient is used: by its mark, in plain words, or with its whole component."""

from __future__ import annotations

from dataclasses import dataclass, field

from pipeline.proof.finding import Bench
from pipeline.proof.names import Mentions, Place, words
from pipeline.proof.prose import flat
from pipeline.recipe.model import ComponentUse, IngredientLine, Prose, Use


@dataclass(frozen=True, slots=True)
class Usage:
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


@dataclass(slots=True)
class _Seen:
    marks: list[tuple[int, Use]] = field(default_factory=list)
    worded: list[int] = field(default_factory=list)
    whole: bool = False


def usages(bench: Bench) -> list[Usage]:
    """One for each ingredient line, in the order of the list."""
    recipe = bench.recipe
    mentions = Mentions(bench)
    seen = {Place(c, n): _Seen() for c, part in enumerate(recipe.components) for n in range(len(part.ingredients))}
    working = {step.component for step in recipe.steps}
    for index, step in enumerate(recipe.steps):
        plain = f"{step.title}. "
        for piece in step.pieces:
            match piece:
                case Use(component=int(c), line=int(n)):
                    seen[Place(c, n)].marks.append((index, piece))
                    plain += " ¶ "
                case ComponentUse(component=c) if c not in working:
                    _whole(seen, c)
                case Prose():
                    plain += str(piece.text)
                case _:
                    plain += " ¶ "
        for place in mentions.of(plain, step.component):
            seen[place].worded.append(index)
        for c in _idle_components(bench, working, flat(step, recipe).text):
            _whole(seen, c)
    return [
        Usage(p, recipe.components[p.component].ingredients[p.line], tuple(s.marks), tuple(s.worded), s.whole)
        for p, s in seen.items()
    ]


def _whole(seen: dict[Place, _Seen], component: int) -> None:
    for place, one in seen.items():
        if place.component == component:
            one.whole = True


def _idle_components(bench: Bench, working: set[int], text: str) -> list[int]:
    """Components without a step of their own that a step calls by name in plain words ("brush with the glaze")."""
    said = set(words(text))
    found = []
    for c, component in enumerate(bench.recipe.components):
        name = words(component.title or component.key)
        if c not in working and name and (name[-1] in said or set(words(component.key)) <= said):
            found.append(c)
    return found
