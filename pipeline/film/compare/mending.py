"""What to do about a number that was said otherwise: the page made to say it, or a line of text for the screen."""

from __future__ import annotations

from pipeline.film.compare.stating import Judged
from pipeline.film.compare.targets import Target
from pipeline.measure.amount import Amount, Interval
from pipeline.measure.express import expressed, say_amount
from pipeline.measure.fractions import say_number
from pipeline.measure.ingredients import Row
from pipeline.measure.units import EACH, Standard
from pipeline.measure.weighing import grams, interval
from pipeline.recipe.model import IngredientLine, Recipe
from pipeline.recipe.span import Span

Edits = tuple[tuple[Span, str], ...]


def said_text(amount: Amount) -> str:
    """An amount in the words in which it was said."""
    return " ".join(amount.text.split()).strip(" ,.;:-") or say_amount(amount)


def written_text(amount: Amount, size: str = "", standard: Standard = "us") -> str:
    """An amount as it was typed; worked out ones as the page prints them."""
    if amount.unit is EACH:
        return " ".join(w for w in (say_number(amount.low, glyph=False), "" if size == "fruit" else size) if w)
    text = " ".join(amount.text.split())
    return text or say_amount(amount, standard)


def amount_edits(
    recipe: Recipe, target: Target, judged: Judged, row: Row | None, line: IngredientLine, standard: Standard
) -> Edits:
    """Edits that write what was said in each of the page's measures; () where one of them cannot be told exactly."""
    said, spans = judged.said, target.spans
    if len(spans) != len(target.amounts) or not spans or said.about:
        return ()
    edits: list[tuple[Span, str]] = []
    for amount, span in zip(target.amounts, spans, strict=True):
        text = _put(said, amount, row, line.size, standard)
        if text is None or recipe.source[span.start : span.end] != amount.text:
            return ()
        edits.append((span, text))
    return tuple(edits)


def _put(said: Amount, like: Amount, row: Row | None, size: str, standard: Standard) -> str | None:
    """``said`` in the measure of ``like``, as typed."""
    if "count" in (said.unit.kind, like.unit.kind) and said.unit == like.unit:
        if like.unit is not EACH or said.low != said.high:
            return None
        return say_number(said.low, glyph=False)
    direct = said.unit.kind == like.unit.kind
    base: Interval | None = interval(said, "stated", standard) if direct else grams(said, row, "stated", size, standard)
    return None if base is None else expressed(base, like, row, size, standard, direct)


def amount_screen(target: Target, line: IngredientLine, standard: Standard) -> str:
    """A ready line: the page's ingredient line without its note, or what the step takes of it."""
    if target.total:
        return " ".join(str(line.text).split(",")[0].split())
    first, *others = [say_amount(a, standard, line.size) for a in target.amounts]
    behind = f" ({', '.join(others)})" if others else ""
    return f"{first}{behind} {line.name}"
