"""Running every check over one recipe: crashes become findings, acceptances are honoured and are themselves checked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pipeline.film.transcript import Transcript
from pipeline.proof.accepting import accepts
from pipeline.proof.discovery import checks
from pipeline.proof.finding import SEVERITIES, Bench, Check, Edit, Finding, Fix, Rows
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Acceptance, Recipe
from pipeline.recipe.span import Span

CRASHED = "check-crashed"
IDLE = "acceptance-idle"
UNREADABLE = "source-unreadable"
_NUMBER, _DIGITS = re.compile(r"\d+"), 6

# What no check says, but the house around them: id, question, reason.
HOUSE: tuple[tuple[str, str, str], ...] = (
    (
        CRASHED,
        "Did a check break down?",
        "A check that breaks down has seen nothing, so the recipe is not proven. The other checks still ran. "
        "It is a fault of this tool, not of the recipe: please report it with the recipe.",
    ),
    (
        IDLE,
        "Does an entry under `accept` accept nothing?",
        "The slip it once accepted is gone, or its id or its place is misspelt. Left standing, it would hide the "
        "next slip of that kind.",
    ),
    (
        UNREADABLE,
        "Can the source be read?",
        "What cannot be read cannot be proven. Every problem that the reader met is shown at once.",
    ),
    (
        "captions-unreadable",
        "Can the captions be read?",
        "Small faults (a missing number, an overlap) are put right while reading. What is left here is a file that is "
        "empty, or something other than captions.",
    ),
    (
        "captions-repaired",
        "Were the captions read without putting anything right?",
        "What was put right for reading is told, so that you can see whether it was put right well. Your file is left "
        "as it is.",
    ),
)


def run(
    recipe: Recipe,
    transcript: Transcript | None,
    channel: Channel,
    table: Rows,
    only: Sequence[Check] | None = None,
    extra: Sequence[Finding] = (),
) -> list[Finding]:
    """All findings about one recipe, in the order of the source, without those that its ``accept`` entries accept.

    ``only`` runs these checks instead of all; ``extra`` are findings from elsewhere (reading the captions), which
    can be accepted like any other. Never raises on account of a check: one that crashes gives an error
    finding under the id ``check-crashed`` and the rest still run.
    """
    bench = Bench(recipe, transcript, channel, table)
    found: list[Finding] = list(extra)
    for check in checks() if only is None else only:
        try:
            found.extend(check.run(bench))
        except Exception as problem:
            found.append(_crash(check, problem, recipe))
    return sorted(_accept(found, recipe), key=_order)


def _order(finding: Finding) -> tuple[str, int, int, int, str, str]:
    place = finding.span
    rank = SEVERITIES.index(finding.severity)
    # "line 6" before "line 10"
    message = _NUMBER.sub(lambda m: m[0].rjust(_DIGITS), finding.message)
    return (place.file, place.line, place.column, rank, finding.check, message)


def _crash(check: Check, problem: Exception, recipe: Recipe) -> Finding:
    return Finding(
        CRASHED,
        "error",
        recipe.title.span,
        f"the check `{check.id}` broke down and proved nothing",
        why=f"{type(problem).__name__}: {problem}",
        fixes=(Fix("report this with the recipe: it is a fault of the check, not of the recipe"),),
    )


def _accept(found: list[Finding], recipe: Recipe) -> list[Finding]:
    """The findings that no acceptance covers, and a finding for every acceptance that covers none."""
    kept, idle = list(found), list(recipe.accepted)
    for acceptance in recipe.accepted:
        covered = [f for f in found if f.check != CRASHED and accepts(acceptance, f, recipe)]
        if covered:
            idle.remove(acceptance)
        kept = [f for f in kept if f not in covered]
    return kept + [_idle(acceptance, found) for acceptance in idle]


def _idle(acceptance: Acceptance, found: Sequence[Finding]) -> Finding:
    known = [*(c.id for c in checks()), *(name for name, _, _ in HOUSE if name.startswith("captions"))]
    if acceptance.finding not in known:
        from difflib import get_close_matches

        near = get_close_matches(acceptance.finding, known, n=1, cutoff=0.5)
        edits = _respell(acceptance, near[0]) if near else ()
        return Finding(
            IDLE,
            "warning",
            acceptance.span,
            f"no check is called `{acceptance.finding}`, so nothing is accepted",
            why="an entry under `accept` names the check whose finding it accepts",
            fixes=(Fix(f"write `{near[0]}`" if near else "`levelcup checks` lists them all", edits),),
        )
    same = sum(f.check == acceptance.finding for f in found)
    if same and acceptance.where:
        why = f"`{acceptance.finding}` speaks of {'another place' if same == 1 else 'other places'} in this recipe"
        help_ = f"copy into `where` some words of the marked line, in place of `{acceptance.where}`"
    else:
        why = "the recipe has no such finding any more"
        help_ = "take the entry out"
    return Finding(
        IDLE,
        "warning",
        acceptance.span,
        f"nothing is left for this acceptance of `{acceptance.finding}` to accept",
        why=why,
        fixes=(Fix(help_),),
    )


def _respell(acceptance: Acceptance, right: str) -> tuple[Edit, ...]:
    place = getattr(acceptance.finding, "span", None)
    return (Edit(place, right),) if isinstance(place, Span) else ()
