"""Sources that cannot be read, and what is told: case files that a cook could read."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_files import Case, cases

from pipeline.recipe.read import SourceError, read_text

WRONG = [c for file in ("syntax.md", "fields.md", "values.md", "steps.md") for c in cases(file)]
WHOLE = cases("messages.md")
GOOD = cases("good.md")


def problems_of(source: str) -> SourceError | None:
    try:
        read_text(source, Path("bread/recipe.yaml"))
    except SourceError as error:
        return error
    return None


@pytest.mark.parametrize("case", WRONG, ids=str)
def test_every_problem_is_told_at_its_place(case: Case) -> None:
    error = problems_of(case.source)
    assert error is not None, f"{case}: read without a word"
    told = [f"{p.span.line}:{p.span.column} {p.message} | {p.help} | {p.why}" for p in error.problems]
    assert len(told) == len(case.expected), f"{case}: told " + "\n".join(told)
    for line, expected in zip(told, case.expected, strict=True):
        place, _, words = expected.partition(" ")
        assert line.startswith(f"{place} "), f"{case}: {line}\nexpected {expected}"
        for part in words.split(" | "):
            assert part in line, f"{case}: {line}\nexpected {expected}"
    assert error.source == case.source


@pytest.mark.parametrize("case", WHOLE, ids=str)
def test_whole_messages(case: Case) -> None:
    error = problems_of(case.source)
    assert error is not None
    assert f"{error}\n" == case.text


@pytest.mark.parametrize("case", GOOD, ids=str)
def test_what_is_read(case: Case) -> None:
    """Each expectation is `expression = value` over the recipe r."""
    recipe = read_text(case.source, Path("bread/recipe.yaml"))
    assert case.expected
    for line in case.expected:
        expression, _, value = line.partition(" = ")
        got = eval(expression.strip("`"), {"r": recipe, "kind": lambda x: type(x).__name__})
        assert str(got) == value.strip("`"), f"{case}: {expression}"
