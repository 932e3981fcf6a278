"""From a recipe to what its page says: the one place where the site asks the measures for words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal
from urllib.parse import quote

from markupsafe import Markup

from pipeline.measure.amount import Amount
from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import (
    IngredientLine,
    Photo,
    Recipe,
    Use,
)
from pipeline.recipe.names import part_called, singular
from pipeline.site.cautions import cautions
from pipeline.site.counter import Tray, at_home, counter_data, name_html, pans_attribute
from pipeline.site.drawn import CardText
from pipeline.site.figures import Figures, figures, retold, row_of, use_amounts
from pipeline.site.moments import at_second, clock
from pipeline.site.photos import Picture
from pipeline.site.prose import inline, plain, safe_link
from pipeline.site.running import TONES, Running, iso
from pipeline.site.structured import recipe_data
from pipeline.site.theme import shipped_words
from pipeline.site.view import (
    CardView,
    ComponentView,
    FilmView,
    IngredientView,
    MomentView,
    PictureView,
    RecipeView,
    Said,
    StepView,
    TimeView,
)
from pipeline.site.words import Words

DENSE = 98  # lines: what two columns of a Letter sheet hold at the usual size (measured by printing)
_TIMES: tuple[Literal["prep", "cook", "rest", "total"], ...] = ("prep", "cook", "rest", "total")


@dataclass(frozen=True, slots=True)
class FilmFiles:
    """The film's own files in the site, relative to its top, or ""."""

    source: str = ""
    kind: str = ""
    track: str = ""


NO_FILM = FilmFiles()


def _numbers(a: Amount) -> tuple[object, ...]:
    """All of an amount in plain values: hashing fractions would cost more than is saved."""
    ends = (n.as_integer_ratio() for n in (a.low, a.high, a.near, a.far))
    return (*ends, a.unit.symbol, a.about, a.text)


def _picture(photo: Photo | None, pictures: Mapping[str, Picture]) -> PictureView | None:
    if photo is None or str(photo.file) not in pictures:
        return None
    return PictureView(pictures[str(photo.file)], photo.alt, photo.caption)


def lead_picture(recipe: Recipe, pictures: Mapping[str, Picture]) -> PictureView | None:
    """A recipe's first picture, which stands for it in lists."""
    return _picture(recipe.photos[0] if recipe.photos else None, pictures)


@dataclass(frozen=True, slots=True)
class Composer:
    """Composes the views of one channel's recipes."""

    channel: Channel
    table: Table
    words: Words = field(default_factory=shipped_words, compare=False, repr=False)
    # Working out both measures is most of the work, and the same amounts come back: in a recipe's list and its steps,
    # and from one recipe to the next. The rows of a table stay as they are as long as the table.
    _known: dict[tuple[object, ...], Figures] = field(default_factory=dict, compare=False, repr=False)
    _names: dict[tuple[str, str], str] = field(default_factory=dict, compare=False, repr=False)
    _heats: dict[tuple[str, bool], tuple[str, str]] = field(default_factory=dict, compare=False, repr=False)
    # What was worked out last for a line as it stands: the list asks for it, and then the steps do.
    _last: dict[int, tuple[tuple[Amount, ...], IngredientLine, Figures]] = field(
        default_factory=dict, compare=False, repr=False
    )

    def _date(self, day: date | None) -> str:
        if day is None:
            return ""
        month = self.words("language.months").split(",")[day.month - 1].strip()
        return self.words("language.date", day=day.day, month=month, year=day.year)

    @property
    def weight_first(self) -> bool:
        return self.channel.lead == "weight"

    def _shown(self, line: IngredientLine, amounts: tuple[Amount, ...]) -> Figures:
        near = self._last.get(id(line))
        if near is not None and near[1] is line and near[0] is amounts:
            return near[2]
        known = self._worked_out(line, amounts)
        if amounts is line.amounts:
            if len(self._last) > 200:
                self._last.clear()
            self._last[id(line)] = (amounts, line, known)
        return known

    def _worked_out(self, line: IngredientLine, amounts: tuple[Amount, ...]) -> Figures:
        key = (*map(_numbers, amounts), line.size, str(line.name), line.note)
        known = self._known.get(key)
        if known is None:
            row = row_of(line, self.table)
            known = figures(amounts, row, line.size, self.channel.cup, str(line.name), line.note)
            known = retold(known, self.words.terms, line.size)
            if known.source:
                known = replace(known, source=self.words("recipe.from", fruit=known.source))
            self._known[key] = known
        return known

    @property
    def _running(self) -> Running:
        return Running(self.channel, self.words, self._figures, self._heats)

    def _figures(self, recipe: Recipe, use: Use) -> Figures:
        if use.component is None or use.line is None:
            return retold(figures(use.amounts, None, "", self.channel.cup), self.words.terms)
        line = recipe.components[use.component].ingredients[use.line]
        if (part := part_called(line, use.name)) and not use.rest:  # "{zest}" of "zest and juice of 1 lemon"
            fruit = f"{singular(line.key)} {part}"
            line = replace(line, name=fruit, size="fruit", note="", amounts=use.amounts or line.amounts)
            return self._shown(line, line.amounts)
        return self._shown(line, use_amounts(recipe, use, self.table, self.channel.cup))

    def _ingredient(self, line: IngredientLine, tray: Tray) -> IngredientView:
        shown = self._shown(line, line.amounts)
        words = shown.words(self.weight_first)
        brief = " ".join(part for part in (words, str(line.name), shown.source) if part)
        tail = [line.note] if line.note else []
        for flag, word in ((line.optional, "optional"), (line.divided, "divided"), (line.to_taste, "to taste")):
            if flag and word not in line.note.lower() and not (word == "to taste" and (line.amounts or line.note)):
                tail.append(self.words(f"recipe.{word.replace(' ', '_')}"))
        return IngredientView(
            name=str(line.name),
            note=", ".join(tail),
            scale=shown.scale,
            cup=(*shown.cup, Said(shown.source)) if shown.source else shown.cup,
            optional=line.optional,
            divided=line.divided,
            to_taste=line.to_taste and not line.amounts,
            # what has no amount is best said as it was: "a splash of vanilla"
            plain=", ".join([brief, *tail]) if line.amounts else " ".join(str(line.text).split()),
            brief=brief,
            named=Markup(name_html(str(line.name), self.channel.language)),
            of=Markup(tray.add(shown)),
        )

    def components(self, recipe: Recipe, tray: Tray | None = None) -> tuple[ComponentView, ...]:
        tray = tray or Tray()
        several = len(recipe.components) > 1
        return tuple(
            ComponentView(
                key=c.key,
                title=c.title or (c.key.replace("-", " ").replace("_", " ").capitalize() if several else ""),
                label=(c.key or c.title).replace("-", " ").replace("_", " ").capitalize() if several else "",
                tone=i % TONES + 1,
                rows=tuple(self._ingredient(line, tray) for line in c.ingredients),
            )
            for i, c in enumerate(recipe.components)
        )

    # -- steps ---------------------------------------------------------------------------------------------------

    def _step(
        self,
        recipe: Recipe,
        index: int,
        parts: tuple[ComponentView, ...],
        film: FilmView | None,
        pictures: Mapping[str, Picture],
        tray: Tray,
    ) -> StepView:
        step = recipe.steps[index]
        body = self._running.blocks(recipe, step.pieces, tray)
        words = plain(body)
        part = parts[step.component]
        moment = None
        if step.at is not None:
            second = step.at // 1000
            href = ""
            if film is not None:
                href = at_second(film.href, second) if film.href else f"../{film.source}#t={second}"
            moment = MomentView(clock(step.at), second, href)
        return StepView(
            number=index + 1,
            title=step.title,
            body=Markup(body),
            plain=words,
            tone=part.tone,
            label=part.label,
            starts=index == 0 or recipe.steps[index - 1].component != step.component,
            moment=moment,
            photo=_picture(step.photo, pictures),
            pans=pans_attribute(words),
        )

    def notes(self, recipe: Recipe, tray: Tray | None = None) -> tuple[Markup, ...]:
        tray = tray or Tray()
        return tuple(self._running.aside(recipe, note, tray) for note in recipe.notes)

    # -- the whole -----------------------------------------------------------------------------------------------

    def film(self, recipe: Recipe, files: FilmFiles) -> FilmView | None:
        video = recipe.video
        if video is None:
            return None
        address = str(video.address or "").strip()
        if not (address.lower().startswith(("https://", "http://")) and safe_link(address)):
            address = ""
        address = quote(address, safe="%/:=&?~#+!$,;'@()*[]")
        if not address and not files.source:
            return None
        length = clock(video.length) if video.length is not None else ""
        title = video.title or str(recipe.title)
        return FilmView(title, address, "" if address else files.source, files.kind, files.track, length)

    def card(self, recipe: Recipe, pictures: Mapping[str, Picture]) -> CardView:
        total = recipe.times.get("total")
        names = " ".join(str(line.name) for c in recipe.components for line in c.ingredients)
        summary = plain(inline(recipe.summary))
        words = " ".join([str(recipe.title), summary, *recipe.keywords, *recipe.category, *recipe.cuisine, names])
        return CardView(
            slug=recipe.slug,
            title=str(recipe.title),
            summary=summary,
            date_iso=recipe.published.isoformat() if recipe.published else "",
            date_words=self._date(recipe.published),
            category=tuple(map(str, recipe.category)),
            cuisine=tuple(map(str, recipe.cuisine)),
            keywords=tuple(map(str, recipe.keywords)),
            total=self.words.terms.time(total) if total else "",
            minutes=-(-total.high // 60) if total else 0,
            find=" ".join(words.lower().split()),
            photo=lead_picture(recipe, pictures),
        )

    def names(self, recipe: Recipe) -> tuple[str, ...]:
        """A recipe's ingredients as the table calls them, in the channel's own English, each once; as typed where it
        knows them not."""
        out: dict[str, None] = {}
        for part in recipe.components:
            for line in part.ingredients:
                key = (str(line.name), line.note)
                name = self._names.get(key)
                if name is None:
                    row = row_of(line, self.table)
                    name = self._names[key] = (
                        at_home(row.name, self.channel.language) if row else str(line.name).lower()
                    )
                out[name] = None
        return tuple(out)

    def card_text(self, recipe: Recipe) -> CardText:
        """What the drawn pictures of a recipe say."""
        total = recipe.times.get("total")
        facts = [str(recipe.yield_.text) if recipe.yield_ else "", self.words.terms.time(total) if total else ""]
        address = f"{self.channel.address}/recipes/{recipe.slug}.html" if self.channel.address else ""
        parts = self.components(recipe)
        line = " · ".join(f for f in facts if f)
        more = self.words("paper.more", n="{n}")
        return CardText(self.channel.name, str(recipe.title), line, address, parts, self.weight_first, more)

    def recipe(self, recipe: Recipe, pictures: Mapping[str, Picture], files: FilmFiles = NO_FILM) -> RecipeView:
        tray = Tray()
        parts = self.components(recipe, tray)
        film = self.film(recipe, files)
        view = RecipeView(
            card=self.card(recipe, pictures),
            summary=Markup(inline(recipe.summary)),
            yields=str(recipe.yield_.text) if recipe.yield_ else "",
            times=tuple(
                TimeView(self.words(f"recipe.{name}"), self.words.terms.time(time), iso(time))
                for name, time in ((name, recipe.times.get(name)) for name in _TIMES)
                if time
            ),
            photos=tuple(p for p in (_picture(photo, pictures) for photo in recipe.photos) if p),
            components=parts,
            steps=tuple(self._step(recipe, i, parts, film, pictures, tray) for i in range(len(recipe.steps))),
            equipment=recipe.equipment,
            gear=tuple((str(tool), pans_attribute(tool)) for tool in recipe.equipment),
            notes=self.notes(recipe, tray),
            substitutions=tuple(
                (s.ingredient, self._running.aside(recipe, s.text, tray)) for s in recipe.substitutions
            ),
            cautions=cautions(recipe, self.words),
            nutrition=tuple((self.words(f"nutrition.{name}"), said) for name, said in recipe.nutrition.items()),
            film=film,
            derived=any(s.derived for c in parts for row in c.rows for s in (*row.scale, *row.cup)),
            weight_first=self.weight_first,
            cup_words=self.words(f"cups.{self.channel.cup}"),
            dense=False,
            data=Markup(""),
        )
        view = replace(
            view, dense=_lines_on_paper(view) > DENSE, counter=counter_data(tray, recipe.yield_, self.channel)
        )
        return recipe_data(recipe, view, self.channel, self.words)


def _lines_on_paper(view: RecipeView) -> int:
    """About how many lines a recipe takes in print: 62 characters in one (measured by printing)."""
    rows = [max(len(r.scale), len(r.cup), 2 if r.note else 1) for part in view.components for r in part.rows]
    texts = [step.plain + step.title for step in view.steps]
    texts += [plain(note) for note in view.notes] + [plain(text) for _, text in view.substitutions]
    texts += [caution.text for caution in view.cautions] + [" ".join(view.equipment)]
    heads = 2 * len(view.components) + 2 * 5 + len(view.substitutions)
    return sum(rows) + heads + sum(-(-len(text) // 62) for text in texts)
