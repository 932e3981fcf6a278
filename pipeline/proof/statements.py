"""Every place where a recipe states one amount twice: ingredient lines, marks in steps, and running words.

A check asks for these; nothing here decides whether they agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.fractions import say_number
from pipeline.measure.grammar import Read, read_amount
from pipeline.measure.ingredients import Match, Row
from pipeline.measure.units import EACH
from pipeline.proof.finding import Bench
from pipeline.proof.names import Mentions, words
from pipeline.proof.prose import plain_texts
from pipeline.recipe.model import IngredientLine, Use
from pipeline.recipe.span import Span, Text

Where = Literal["list", "step", "words"]


class Stated(NamedTuple):
    """One statement of an amount and where it was typed."""

    amount: Amount
    span: Span


class Pair(NamedTuple):
    """Two or more statements that should be the same amount of one ingredient.

    ``name`` is the ingredient as typed; ``row`` is None where the table has none; ``line`` the ingredient line they
    belong to, where one is known.
    """

    where: Where
    stated: tuple[Stated, ...]
    name: str
    row: Row | None
    size: str
    line: IngredientLine | None


def pairs(bench: Bench) -> tuple[Pair, ...]:
    """All of them, in the order list, steps' marks, running words."""
    return tuple(_pairs(bench))


def _pairs(bench: Bench) -> Iterator[Pair]:
    for component in bench.recipe.components:
        for line in component.ingredients:
            if len(line.amounts) > 1:
                every = zip(line.amounts, line.item_spans, strict=True)
                stated = tuple(Stated(a, s) for a, s in every if not _of_other_state(s, bench.recipe.source))
                yield Pair("list", stated, bench.called(line), bench.row(line), line.size, line)
    for step in bench.recipe.steps:
        for piece in step.pieces:
            if isinstance(piece, Use) and len(piece.amounts) > 1 and piece.share is None:
                yield _of_use(piece, bench)
    yield from _in_words(bench)


# "2 lb (900 g; 600 g peeled)": the weight of what is left is another amount, not another measure of the same one.
_OTHER_STATE = re.compile(
    r"[^\S\n]*(?:drained|net|cooked|peeled|pitted|stoned|shelled|trimmed|boned|cleaned|cored|seeded|prepared|picked"
    r"|dry|dried|raw|uncooked|unpeeled|popped|squeezed|grated|after|before|once|when)\b",
    re.IGNORECASE,
)


def _of_other_state(span: Span, source: str) -> bool:
    """Whether the words right after a statement in parentheses say that it is of the thing in another state."""
    if "(" not in source[max(0, span.start - 40) : span.start].rpartition("\n")[2]:
        return False
    m = _OTHER_STATE.match(source, span.end)
    return bool(m) and ")" in source[m.end() : m.end() + 30].partition("\n")[0] if m else False


def _of_use(use: Use, bench: Bench) -> Pair:
    line = bench.line(use.component, use.line)
    if line is not None:
        name, row, size = bench.called(line), bench.row(line), line.size
    else:
        found = bench.match(str(use.name))
        name, row, size = str(use.name), found.row if found else None, ""
    return Pair("step", stated_in(use.whole, use.amounts), name, row, size, line)


def stated_in(whole: Text, amounts: tuple[Amount, ...]) -> tuple[Stated, ...]:
    """The amounts of a mark with the smallest span that can be told for each."""
    result: list[Stated] = []
    after = max(whole.find(":"), 0)
    for amount in amounts:
        at = whole.find(amount.text, after) if amount.text else -1
        if at < 0:
            result.append(Stated(amount, whole.span))
        else:
            after = at + len(amount.text)
            result.append(Stated(amount, whole.part(at, after)))
    return tuple(result)


def each(stated: Stated) -> Fraction | None:
    """How many things a statement was multiplied by when it was typed of each one ("2 cans of 400 g"), else None."""
    amount = stated.amount
    typed = read_amount(amount.text, bare=True) if amount.text else None
    if typed is None or typed.amount.unit != amount.unit or not typed.amount.value:
        return None
    times = amount.value / typed.amount.value
    return times if times != 1 else None


def said(stated: Stated, size: str = "") -> str:
    """A statement in words: with the size where things are counted ("2 large"), with the number of things where it
    was typed of each one ("2 × 400 g")."""
    amount = stated.amount
    text = amount.text or str(amount.value)
    if times := each(stated):
        return f"{say_number(times)} × {text}"
    if amount.unit == EACH and size and size not in text:
        return f"{text} {size}"
    return text


_NUMBER = re.compile(r"(?<![\w.,/⁄¼-¾⅐-⅞-])[\d¼-¾⅐-⅞]")
_SEPARATOR = re.compile(r"\s*[/=≈]\s*|\s+or\s+|\s*\(\s*(?:or |about |that is |i\.e\. )?", re.IGNORECASE)
_BETWEEN = re.compile(r"\s+(?:of\s+)?(?P<name>[^\W\d_][^.,;:()\d]{1,40}?)\s*\(\s*(?:or |about )?", re.IGNORECASE)
_AFTER = re.compile(r"\s*\)?\s*(?:of\s+)?(?:the\s+|your\s+)?(?P<name>[^\W\d_][^.,;:()\d]{1,60})", re.IGNORECASE)


class Found(NamedTuple):
    """An amount in running words: its indices in the text and the ingredient named right after it."""

    text: Text
    step: int | None
    reads: tuple[Read, ...]
    name: str
    row: Row | None
    line: IngredientLine | None


def amounts_in_words(bench: Bench) -> tuple[Found, ...]:
    """Weights and volumes in running words, alone or in pairs, with the ingredient that they speak of."""
    return tuple(_amounts_in_words(bench))


def _amounts_in_words(bench: Bench) -> Iterator[Found]:
    mentions = bench.once(Mentions)
    for text, step in plain_texts(bench.recipe):
        pos = 0
        while m := _NUMBER.search(text, pos):
            pos = m.end()
            first = _kitchen(text, m.start())
            if first is None:
                continue
            pos = first.end
            second, between = _second(text, first.end)
            reads = (first, second) if second else (first,)
            pos = reads[-1].end
            after = _AFTER.match(text, pos)
            said = between or (after["name"] if after else "")
            name, row, line = _named(said, step, bench, mentions, whole=bool(between))
            yield Found(text, step, reads, name, row, line)


def _kitchen(text: str, pos: int) -> Read | None:
    got = read_amount(text, pos, words=False)
    return got if got and got.amount.unit.kind in ("mass", "volume") else None


def _second(text: str, end: int) -> tuple[Read | None, str]:
    """The other half of a pair, and the ingredient where its name stands between the halves."""
    if (m := _SEPARATOR.match(text, end)) and (got := _kitchen(text, m.end())):
        return got, ""
    if (m := _BETWEEN.match(text, end)) and (got := _kitchen(text, m.end())):
        return got, m["name"]
    return None, ""


def _named(
    said: str, step: int | None, bench: Bench, mentions: Mentions, whole: bool
) -> tuple[str, Row | None, IngredientLine | None]:
    """The ingredient that words begin with (or, ``whole``, are): a listed one first, else one of the table."""
    parts = said.split()[:5]
    own = bench.recipe.steps[step].component if step is not None else None
    for n in range(len(parts), 0, -1):
        phrase = " ".join(parts[:n])
        places = mentions.exactly(words(phrase))
        mine = [p for p in places if p.component == own] or list(places)
        if len(mine) == 1:
            line = bench.recipe.components[mine[0].component].ingredients[mine[0].line]
            return phrase, bench.row(line), line
        if found := bench.match(phrase):
            short = next(" ".join(parts[:k]) for k in range(1, n + 1) if _same_row(" ".join(parts[:k]), found, bench))
            return short, found.row, None
        if whole:
            break
    return "", None, None


def _same_row(phrase: str, found: Match, bench: Bench) -> bool:
    """Whether fewer words mean the same ("water" of "water to")."""
    match = bench.match(phrase)
    return match is not None and match.row == found.row


def _in_words(bench: Bench) -> Iterator[Pair]:
    for found in bench.once(amounts_in_words):
        if len(found.reads) < 2 or found.reads[0].amount.unit == found.reads[1].amount.unit:
            continue  # "200 g or 300 g" is a choice
        stated = tuple(Stated(r.amount, found.text.part(r.start, r.end)) for r in found.reads)
        size = found.line.size if found.line else ""
        yield Pair("words", stated, found.name or "this", found.row, size, found.line)
