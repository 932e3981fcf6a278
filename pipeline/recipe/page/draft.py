"""A saved page of the cook's own becomes a first recipe.yaml. Nothing on it is changed, and nothing is fetched."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from pipeline.measure.numbers import no_number
from pipeline.recipe.layout import Row, block, clean, key, listing, remark, scalar, slug_line
from pipeline.recipe.page.fields import (
    Part,
    ingredients_of,
    links_of,
    seconds_of,
    steps_of,
    time_of,
    words_of,
    yield_of,
)
from pipeline.recipe.page.markup import Item, items, walk
from pipeline.recipe.read import SourceError, read_text
from pipeline.recipe.values import say_moment

_STEP_WORDS = frozenset(["component", "title", "text", "at", "photo"])
_SCHEDULE = (("prep", ("prepTime",)), ("cook", ("cookTime", "performTime")), ("total", ("totalTime",)))


class PageError(ValueError):
    """A page that no draft can be made of; its text says why and what to do."""


@dataclass(frozen=True, slots=True)
class PageDraft:
    """``text``: the recipe.yaml; ``title``: its recipe's; ``notes``: what the cook should know, a sentence each."""

    text: str
    title: str
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Block:
    """A field's lines; ``needed`` ones cannot be left out."""

    lines: list[str]
    needed: bool = False


def draft_from_page(page: str | bytes, which: int = 1) -> PageDraft:
    """The first recipe.yaml of a page's schema.org Recipe, JSON-LD or microdata; the reader takes it.

    ``which``: of several recipes on a page, which one (from 1). Raises PageError where there is none, or no such one.
    """
    found, notes = items(page)
    recipes = _recipes(found)
    if not recipes:
        raise PageError(_none(found, notes))
    if not 1 <= which <= len(recipes):
        many = "one recipe" if len(recipes) == 1 else f"{len(recipes)} recipes"
        raise PageError(f"there is no recipe {which} on this page: it holds {many}")
    if len(recipes) > 1:
        names = ", ".join(f"{n} {r.text('name') or 'without a name'}" for n, r in enumerate(recipes, 1))
        notes.append(f"this page holds {len(recipes)} recipes: {names}; number {which} was drafted")
    recipe = recipes[which - 1]
    maker = _Maker(recipe, notes)
    text = _readable(maker.blocks())
    return PageDraft(text, maker.title, tuple(notes))


def _recipes(found: Sequence[Item]) -> list[Item]:
    """The recipes, JSON-LD before microdata; one told in both ways is one."""
    result: list[Item] = []
    for item in walk(list(found)):
        if not any(t.rsplit("/", 1)[-1].lower() == "recipe" for t in item.types):
            continue
        if not (ingredients_of(item) or steps_of(item)):
            continue  # a reference to a recipe elsewhere
        name = item.text("name").lower()
        if not any(name and other.text("name").lower() == name for other in result):
            result.append(item)
    return result


def _none(found: Sequence[Item], notes: Sequence[str]) -> str:
    types = list(dict.fromkeys(t for item in walk(list(found)) for t in item.types))
    if notes:
        return f"no recipe can be read from this page: {'; '.join(notes)}"
    if any(t.lower() == "recipe" for t in types):
        return "the recipe on this page has neither ingredients nor steps in its structured data"
    if types:
        listed = ", ".join(types[:6])
        return f"this page describes {listed}, but no recipe; save the recipe's own page, whole, and try that"
    return (
        "this page has no structured data (schema.org Recipe, as JSON-LD or microdata); "
        'begin with `levelcup draft --blank "Title"` and copy the text over'
    )


def _row(line: str) -> Row:
    """An ingredient line; a fraction of nothing, which no recipe can hold, stays to be seen beside it."""
    told = line
    while found := no_number(line):
        line = f"{line[: found[0]]}? {line[found[1] :]}"
    return Row(line) if line == told else Row(line, f"check: the page says `{told}`")


def _readable(blocks: list[_Block]) -> str:
    """The blocks as one text; one that the reader refuses is kept as a comment."""
    for _ in range(len(blocks) + 1):
        text = "\n".join(line for b in blocks for line in b.lines) + "\n"
        try:
            read_text(text)
        except SourceError as error:
            line = min(problem.span.line for problem in error.problems)
            for one in blocks:
                if line <= len(one.lines):
                    break
                line -= len(one.lines)
            if one.needed:
                break
            why = error.problems[0].message
            one.lines = [remark(f"check: {why}"), *(remark(said) for said in one.lines if said.strip())]
        else:
            return text
    return text


@dataclass(slots=True)
class _Maker:
    recipe: Item
    notes: list[str]
    title: str = field(init=False)

    def __post_init__(self) -> None:
        self.title = clean(self.recipe.text("name", "headline")) or "Untitled recipe"

    def blocks(self) -> list[_Block]:
        r = self.recipe
        out = [
            _Block(
                [
                    "# Drafted from a page of yours. Amounts stand as they stood there; `levelcup check` says what is",
                    "# missing, and where the two measures disagree.",
                ]
            ),
            _Block([f"title: {scalar(self.title)}", *slug_line(self.title)], needed=True),
            _Block(["draft: true            # take this line out to publish, and give the date"]),
        ]
        if date := re.match(r"\d{4}-\d\d-\d\d", r.text("datePublished", "dateCreated")):
            out.append(_Block([f"# published: {date[0]}"]))
        out.append(self._summary())
        if said := yield_of(r):
            bare = re.fullmatch(r"\d+", said)
            line = f"yield: serves {said}   {remark(f'check: the page says “{said}”, and not of what')}"
            out.append(_Block([line if bare else f"yield: {scalar(said)}"]))
        else:
            out.append(_Block(["# yield: serves 4      # the page does not say"]))
        out.append(self._times())
        for name, source in (("category", "recipeCategory"), ("cuisine", "recipeCuisine"), ("keywords", "keywords")):
            if words := words_of(r, source):
                out.append(_Block([f"{name}: [{', '.join(_flow(w) for w in words)}]"]))
        if tools := [line for text in r.texts("tool") for line in text.split("\n")]:
            out.append(_Block(["equipment:", *listing([Row(t) for t in tools], 2)]))
        out.append(_Block([""]))
        out += self._body()
        out.append(self._film())
        out.append(self._left_out())
        return out

    def _summary(self) -> _Block:
        text = " ".join(self.recipe.text("description", "abstract").split())
        if not text:
            return _Block(['summary: ""            # one or two sentences: the hook under the film'])
        return _Block(
            ["summary: >", *block(text.replace("\\", ""), 2)] if len(text) > 80 else [f"summary: {scalar(text)}"]
        )

    def _times(self) -> _Block:
        told: list[str] = []
        odd: list[str] = []
        for name, sources in _SCHEDULE:
            value, unread = time_of(self.recipe, *sources)
            if value:
                told.append(f"{name}: {value}")
            if unread:
                odd.append(f"{sources[0]} “{clean(unread)}”")
        lines = [f"times: {{{', '.join(told)}}}"] if told else []
        if odd:
            lines.append(remark(f"check: could not be read as a time: {', '.join(odd)}"))
            self.notes.append(f"could not be read as a time: {', '.join(odd)}")
        return _Block(lines or ["# times: {prep: 20 min, cook: 1 h}"])

    def _body(self) -> list[_Block]:
        groups, parts = ingredients_of(self.recipe), steps_of(self.recipe)
        if not groups:
            self.notes.append("the page lists no ingredients")
        if not parts:
            self.notes.append("the page tells no steps")
        named = any(name for name, _ in groups) or len([p for p in parts if p.name]) > 1
        body = self._components(groups, parts) if named else self._plain(groups, parts)
        return [*body, _Block([""])]

    def _plain(self, groups: Sequence[tuple[str, list[str]]], parts: Sequence[Part]) -> list[_Block]:
        rows = [_row(line) for _, lines in groups for line in lines]
        rows = rows or [Row("ingredient", "check: the page lists none; write one line for each")]
        steps = [line for part in parts for title, text in part.steps for line in _step(title, text, "")]
        return [
            _Block(["ingredients:", *listing(rows, 2)], needed=True),
            _Block(["", "steps:", *(steps or _step("First step", "The page tells no steps.", ""))], needed=True),
        ]

    def _components(self, groups: Sequence[tuple[str, list[str]]], parts: Sequence[Part]) -> list[_Block]:
        keys: dict[str, tuple[str, list[str]]] = {}
        guessed = not any(name for name, _ in groups)
        if guessed:
            lines = [line for _, own in groups for line in own]
            for part in parts:
                keys.setdefault(part.name, (_key(part.name or "main part", keys), []))
            for line in lines:
                keys[_home(line, parts)][1].append(line)
        else:
            for name, own in groups:
                keys.setdefault(name, (_key(name or "main part", keys), []))[1].extend(own)
        out = (
            [remark("check: which part an ingredient belongs to is a guess, from the steps that name it")]
            if guessed
            else []
        )
        steps: list[str] = []
        for part in parts:
            found = _nearest(part.name, list(keys))
            if found is None:
                keys[part.name] = (_key(part.name or "to finish", keys), [])
                found = part.name
            for title, text in part.steps:
                steps += _step(title, text, keys[found][0])
        out.append("components:")
        for name, (own_key, own) in keys.items():
            out.append(f"  {scalar(own_key)}:")
            if name:
                out.append(f"    title: {scalar(name)}")
            out += (
                ["    ingredients:", *listing([_row(line) for line in own], 6)] if own else ([] if name else ["    []"])
            )
        first = next(iter(keys.values()))[0]
        return [
            _Block(out, needed=True),
            _Block(["", "steps:", *(steps or _step("First step", "The page tells no steps.", first))], needed=True),
        ]

    def _film(self) -> _Block:
        film = next((v for v in self.recipe.all("video") if isinstance(v, Item)), None)
        lines: list[str] = []
        if film is not None:
            address = next(
                (a for n in ("url", "embedUrl", "contentUrl") if re.match(r"https?://[^\s<>\"]+$", a := film.text(n))),
                "",
            )
            seconds = seconds_of(film.text("duration"))
            if address:
                lines.append(f"  address: {scalar(address)}")
            if seconds:
                lines.append(f"  length: {say_moment(seconds * 1000)}")
        if lines:
            return _Block(["video:", *lines, "  # captions: captions.vtt"])
        return _Block(["# video:", "#   address: https://", "#   captions: captions.vtt"])

    def _left_out(self) -> _Block:
        lines: list[str] = []
        if pictures := links_of(self.recipe, "image"):
            lines.append(
                "# Pictures on the page; save those that you want beside this file and list them under `photos:`."
            )
            lines += [remark(f"  {link}") for link in pictures[:12]]
        if self.recipe.all("nutrition"):
            lines.append("# The page's nutrition figures were left out: they are not worked out from these amounts.")
        return _Block(lines)


def _flow(word: str) -> str:
    """A word inside [ ]."""
    made = scalar(word)
    return made if made.startswith('"') or not re.search(r"[,\[\]{}]", word) else '"' + made.replace('"', '\\"') + '"'


def _key(name: str, taken: dict[str, tuple[str, list[str]]]) -> str:
    short = re.sub(r"^(?:for )?(?:the )?", "", clean(name), flags=re.IGNORECASE) or "part"
    if short.lower() in _STEP_WORDS:
        short = f"the {short}"
    return key(short, [k for k, _ in taken.values()])


def _words(text: str) -> set[str]:
    return {w.rstrip("s") for w in re.findall(r"[^\W\d]{3,}", text.lower())} - {"the", "for", "and", "make", "prepare"}


def _nearest(name: str, names: Sequence[str]) -> str | None:
    """The group that a section of steps means: the same words, or most of them."""
    if name in names:
        return name
    best = max(names, key=lambda other: len(_words(name) & _words(other)), default=None)
    return best if best is not None and _words(name) & _words(best) else None


def _home(line: str, parts: Sequence[Part]) -> str:
    """The first part whose steps name most of an ingredient's words."""
    words = _words(re.sub(r"\(.*?\)|,.*", "", line))
    scored = [(len(words & _words(" ".join(t for _, t in part.steps))), -n, part.name) for n, part in enumerate(parts)]
    return max(scored)[2]


def _step(title: str, text: str, component: str) -> list[str]:
    out: list[str] = []
    head = "  - "
    if component:
        out.append(f"{head}component: {scalar(component)}")
        head = "    "
    if title:
        out.append(f"{head}title: {scalar(title)}")
        head = "    "
    lines = block(text.replace("{", "{{").replace("}", "}}"), len("      "))
    if not lines:
        return []
    return [*out, f"{head}text: |", *lines]
