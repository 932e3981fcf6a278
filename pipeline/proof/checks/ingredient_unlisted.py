"""An ingredient that a step uses and the list does not have."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.names import WORD_LISTS, Mentions, words
from pipeline.proof.phrases import Phrases
from pipeline.proof.statements import amounts_in_words
from pipeline.recipe.model import Prose, Use
from pipeline.recipe.span import Text

ID = "ingredient-unlisted"

_AT_HAND = WORD_LISTS["(at hand)"]
_GENERAL = WORD_LISTS["(general)"]
# Only what is plainly put in counts; "add the cheese" where parmesan is listed must not.
_ADDED = Phrases(
    r"(?:add|(?:stir|fold|whisk|beat|mix|pour|tip) in|scatter over|sprinkle (?:over|with|in)|drizzle with)",
    after=r"\s+(?:the\s+|your\s+|all the\s+|some\s+|a (?:little|bit of|splash of)\s+)?(?P<name>[a-z][a-z' -]{2,40})",
)


def run(bench: Bench) -> Iterable[Finding]:
    yield from _marks(bench)
    yield from _words(bench)


def _marks(bench: Bench) -> Iterator[Finding]:
    listed = {line.key: line for component in bench.recipe.components for line in component.ingredients}
    for index, step in enumerate(bench.recipe.steps):
        for piece in step.pieces:
            if not isinstance(piece, Use) or piece.line is not None:
                continue
            name = str(piece.name)
            near = (
                _like(name.casefold(), listed, 2, 0.6)
                or [key for key in listed if set(words(name)) & set(words(key))][:2]
                or _misspelt(name.casefold(), listed)
            )
            respell = tuple(Fix(f"`{key}`, if that is meant", (Edit(piece.name.span, key),)) for key in near)
            yield Finding(
                ID,
                "error",
                piece.name.span,
                f"step {index + 1} uses {name}, which the list does not have",
                why="a mark prints the amount from the list, and there is none",
                fixes=(*respell, Fix(f"add {name} to the list with its amount")),
            )


def _like(name: str, others: Iterable[str], most: int, least: float) -> list[str]:
    from difflib import get_close_matches

    return get_close_matches(name, list(others), most, least)


def _misspelt(name: str, listed: Iterable[str]) -> list[str]:
    """Names whose last word is nearly what was typed: "bread flour" for "flor"."""
    last: dict[str, list[str]] = {}
    for key in listed:
        last.setdefault(key.rsplit(" ", 1)[-1], []).append(key)
    return [key for word in _like(name, last, 1, 0.75) for key in last[word]][:2]


def _words(bench: Bench) -> Iterator[Finding]:
    """Plain words are judged only where an amount stands before a known ingredient, or a plain verb of adding does."""
    mentions = bench.once(Mentions)
    parts = {w for c in bench.recipe.components for w in words(f"{c.title} {c.key}")}
    told: set[str] = set()
    for found in bench.once(amounts_in_words):
        if found.step is None or found.line is not None or found.row is None:
            continue
        if _new(found.name, bench, mentions, parts, told):
            at = max(found.text.find(found.name, found.reads[0].end), 0)
            yield _plain(found.text, at, found.name, found.step)
    for index, step in enumerate(bench.recipe.steps):
        for piece in step.pieces:
            if isinstance(piece, Prose):
                for m in _ADDED.finditer(piece.text):
                    name = _known(m["name"], bench)
                    if name and not set(words(name)) & _GENERAL and _new(name, bench, mentions, parts, told):
                        yield _plain(piece.text, m.start("name"), name, index)


def _known(said: str, bench: Bench) -> str:
    """The longest beginning of these words that the table has under just this name, or ""."""
    parts = re.split(r"\s+(?:and|with|to|until|into|in|over|on|at|a|for|if|as|then|or)\b", said)[0].split()[:4]
    for n in range(len(parts), 0, -1):
        phrase = " ".join(parts[:n])
        match = bench.match(phrase)
        if match and match.how in ("name", "alias"):
            return phrase
    return ""


def _new(name: str, bench: Bench, mentions: Mentions, parts: set[str], told: set[str]) -> bool:
    """Whether no line, component or earlier finding speaks of it, not even with one of its words."""
    said = set(words(name))
    match = bench.match(name)
    other = {w for n in ((match.row.name, *match.row.aliases) if match else ()) for w in words(n)}
    listed = {w for c in bench.recipe.components for line in c.ingredients for w in words(str(line.text))}
    if said & _AT_HAND or said & parts or said & listed or mentions.of(name) or name.casefold() in told:
        return False
    if other & listed - _AT_HAND and len(other & listed) == len(other):
        return False
    told.add(name.casefold())
    return True


def _plain(text: Text, at: int, name: str, step: int) -> Finding:
    return Finding(
        ID,
        "warning",
        text.part(at, at + len(name)),
        f"step {step + 1} calls for {name}, which the list does not have",
        why="who shops by the list will not have it",
        fixes=(Fix(f"add {name} to the list with its amount, and write `{{{name}}}` in the step"),),
    )


CHECK = Check(
    id=ID,
    question="Is every ingredient that a step uses in the list?",
    reason=(
        "Who shops and weighs by the list finds out halfway through that something is missing. A mark that the list "
        "cannot answer is an error; plain words are a warning, and only where they are unmistakable."
    ),
    good="""\
title: Pancakes
yield: 8 pancakes
ingredients:
  - 200 g or 1 2/3 cups all-purpose flour
  - 300 ml milk
steps:
  - Whisk {flour} into {milk}.
""",
    bad="""\
title: Pancakes
yield: 8 pancakes
ingredients:
  - 200 g or 1 2/3 cups all-purpose flour
  - 300 ml milk
steps:
  - Whisk {flour} into {milk} with {maple syrup}.
""",
    run=run,
)
