"""Whether an ``accept`` entry speaks of a finding."""

from __future__ import annotations

from collections.abc import Iterator

from pipeline.proof.finding import Finding
from pipeline.recipe.model import Acceptance, Recipe
from pipeline.recipe.span import Span


def accepts(acceptance: Acceptance, finding: Finding, recipe: Recipe) -> bool:
    """True where the ids are equal and ``where`` (if given) stands in the place the finding speaks of.

    That place is the marked line, the other half's line, the ingredient line or step around the mark, or the
    finding's own headline. Capitals and the number of spaces do not matter.
    """
    if acceptance.finding != finding.check:
        return False
    wanted = _plain(acceptance.where)
    return not wanted or any(wanted in _plain(text) for text in _places(finding, recipe))


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _places(finding: Finding, recipe: Recipe) -> Iterator[str]:
    yield finding.message
    for span in (finding.span, finding.second):
        if span is None or span.file != str(recipe.path):
            continue
        start = recipe.source.rfind("\n", 0, span.start) + 1
        end = recipe.source.find("\n", span.end)
        yield recipe.source[start : end if end >= 0 else len(recipe.source)]
        for part in _parts(recipe):
            if part.start <= span.start and span.end <= part.end:
                yield recipe.source[part.start : part.end]


def _parts(recipe: Recipe) -> Iterator[Span]:
    for component in recipe.components:
        for line in component.ingredients:
            yield line.span
    for step in recipe.steps:
        yield step.span
