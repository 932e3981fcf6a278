"""Titles of chapter marks: a step's own, else made from its first words; none twice."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pipeline.film.mark import Chapter, clean_title, shortened
from pipeline.recipe.model import ComponentUse, Prose, Recipe, Step, Use

# Titles made from a step's text stay well below what the platform shows (49 to 70 characters, from memory).
_MADE = 40


def component_title(recipe: Recipe, step: Step) -> str:
    if len(recipe.components) < 2 or not 0 <= step.component < len(recipe.components):
        return ""
    return recipe.components[step.component].title


def joint_title(recipe: Recipe, steps: Sequence[int], longest: int) -> str:
    """The titles of steps that share a moment, as many as fit, else the first alone."""
    titles = [_title(recipe, index, longest) for index in steps]
    joint = titles[0]
    for title in titles[1:]:
        if title in titles[0] or len(joint) + len(title) + 3 > min(longest, _MADE + 10):
            continue
        joint = f"{joint} · {title}"
    return joint


def _title(recipe: Recipe, index: int, longest: int) -> str:
    step = recipe.steps[index]
    title = clean_title(step.title, longest) or made_title(recipe, step, longest)
    return title or shortened(component_title(recipe, step) or f"Step {index + 1}", longest)


_MARKDOWN = re.compile(r"\*\*|__|`|~~|(?<!\w)[*_](?=\S)|(?<=\S)[*_](?!\w)|^\s*(?:#+|>|[-*+]|\d+[.)])\s+", re.MULTILINE)
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")
_SENTENCE = re.compile(r"(?<=[^\d\s.])[.!?](?:\s|$)|\n\s*\n")
_CLAUSE = re.compile(r"\s*[,;:(–—]\s*|\s+(?:until|then|and then|so that|while|because|which)\s+")
# A title does not end in a word that waits for another.
_ARTICLES = {"a", "an", "the", "your", "some", "it", "its", "that"}
_PREPOSITIONS = {"with", "of", "to", "in", "into", "on", "onto", "for", "from", "at", "by", "about", "over", "under"}
_WAITING = _ARTICLES | _PREPOSITIONS | {"and", "or", "as", "is"}


def unwaiting(words: Sequence[str]) -> list[str]:
    """The words without those at the end that wait for another; one stays at least."""
    last = len(words)
    while last > 1 and words[last - 1].lower().strip(",;:") in _WAITING:
        last -= 1
    return list(words[:last])


def made_title(recipe: Recipe, step: Step, longest: int) -> str:
    """A short title from the first words of a step's text, its marks said in words. May be ""."""
    parts: list[str] = []
    for piece in step.pieces:
        if isinstance(piece, Prose):
            parts.append(str(piece.text))
        elif isinstance(piece, Use):
            parts.append(str(piece.name))
        elif isinstance(piece, ComponentUse):
            parts.append(recipe.components[piece.component].title.lower())
        else:
            parts.append(str(piece.whole).strip("{}").strip())
    text = "".join(parts) if parts else str(step.text)
    text = _MARKDOWN.sub("", _LINK.sub(r"\1", text)).strip()
    sentence = clean_title(_SENTENCE.split(text, maxsplit=1)[0])
    clause = _CLAUSE.split(sentence, maxsplit=1)[0]
    if len(clause.split()) < 2:
        clause = sentence
    room = min(longest, _MADE)
    words = clause.split()
    while len(" ".join(words)) > room and len(words) > 1:
        words.pop()
    if len(words) < len(clause.split()) and len(words) > 3 and words[-2].lower() in ("and", "or"):
        words.pop()  # "tip it onto a towel and let": what comes behind was cut off
    words = unwaiting(words)
    title = shortened(" ".join(words).rstrip(",;:–—-. "), room)
    return title[:1].upper() + title[1:]


def told_apart(recipe: Recipe, chapters: list[Chapter], longest: int) -> list[Chapter]:
    """The chapters with no title twice: "Mix (dough)", "Mix (sauce)"; else "Fold", "Fold 2"."""
    count: dict[str, int] = {}
    for chapter in chapters:
        key = chapter.title.casefold()
        count[key] = count.get(key, 0) + 1
    taken: set[str] = set()
    result: list[Chapter] = []
    for chapter in chapters:
        title = chapter.title
        if count[title.casefold()] > 1 and chapter.step is not None:
            component = clean_title(component_title(recipe, recipe.steps[chapter.step])).lower()
            if component:
                title = _with(title, f" ({component})", longest)
        number = 2
        base = title
        while title.casefold() in taken:
            title = _with(base, f" {number}", longest)
            number += 1
        taken.add(title.casefold())
        result.append(Chapter(chapter.at, title, chapter.step))
    return result


def _with(title: str, tail: str, longest: int) -> str:
    """``title`` and ``tail``; the title gives way."""
    if len(tail) >= longest:
        return shortened(title + tail, longest)
    return shortened(title, longest - len(tail)) + tail
