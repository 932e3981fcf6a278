"""Running text with its marks filled in: steps, notes and substitutions as the page says them."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from html import escape

from markupsafe import Markup

from pipeline.measure.duration import iso_duration
from pipeline.measure.heat import Duration, Heat
from pipeline.recipe.aside import read_aside
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import ComponentUse, HeatMark, Piece, Prose, Recipe, TimeMark, Use
from pipeline.site.counter import Tray, name_html
from pipeline.site.figures import Figures
from pipeline.site.prose import block, with_marks
from pipeline.site.warmth import heats_shown, is_oven_here, lacking, scale_of
from pipeline.site.words import Words

TONES = 6


def _prose(pieces: Sequence[Piece]) -> str:
    """The words between the marks."""
    return "".join(str(p.text) for p in pieces if isinstance(p, Prose))


def iso(duration: Duration) -> str:
    return str(iso_duration(duration.high))


@dataclass(frozen=True, slots=True)
class Running:
    """Fills in the marks of one channel's texts; ``figures`` says what a mark for an ingredient stands for."""

    channel: Channel
    words: Words
    figures: Callable[[Recipe, Use], Figures]
    # The same few heats stand in all recipes: what is typed, and whether it is an oven's → what is said.
    _heats: dict[tuple[str, bool], tuple[str, str]] = field(default_factory=dict, compare=False, repr=False)

    def _mark(self, recipe: Recipe, pieces: Sequence[Piece], at: int, tray: Tray) -> tuple[str, str]:
        """The mark at index ``at`` of a text's pieces: (HTML, plain text)."""
        piece = pieces[at]
        if isinstance(piece, Use):
            previous = pieces[at - 1] if at else None
            return self._use(recipe, piece, str(previous.text) if isinstance(previous, Prose) else "", tray)
        if isinstance(piece, ComponentUse):
            part = recipe.components[piece.component]
            name = (part.key or part.title).replace("-", " ").replace("_", " ")
            return f'<span class="whole tone-{piece.component % TONES + 1}">{escape(name)}</span>', name
        if isinstance(piece, HeatMark):
            before, after = _prose(pieces[:at]), _prose(pieces[at:])
            key = str(piece.whole), is_oven_here(piece.heats, before, after)
            known = self._heats.get(key)
            if known is None:
                known = self._heats[key] = self._heat(piece.heats, key[1])
            return known
        if isinstance(piece, TimeMark):
            typed, time = str(piece.whole).strip("{} "), piece.times[0]
            if re.match(r"P[T\d]", typed):  # "PT1H30M" is for programs
                typed = self.words.terms.time(time)
            ends = f' data-from="{time.low}" data-to="{time.high}"'
            return f'<time datetime="{iso(time)}"{ends}>{escape(typed)}</time>', typed
        raise TypeError(f"not a mark: {piece!r}")

    def _heat(self, heats: tuple[Heat, ...], oven: bool) -> tuple[str, str]:
        say = self.words.terms.heat
        said = heats_shown(heats, self.channel, oven)
        both = "\u00a0/ ".join(f'<b data-scale="{scale_of(h)}">{escape(say(h))}</b>' for h in said)
        unsaid = [(on, heat) for on, heat in lacking(heats, oven) if heat not in said]
        more = "".join(f' data-{on}="{escape(say(heat))}"' for on, heat in unsaid)
        return f'<span class="heat"{more}>{both}</span>', " / ".join(map(say, said))

    def blocks(self, recipe: Recipe, pieces: Sequence[Piece], tray: Tray) -> str:
        """A text with its marks filled in, as HTML blocks."""
        return with_marks(
            [str(p.text) if isinstance(p, Prose) else self._mark(recipe, pieces, i, tray) for i, p in enumerate(pieces)]
        )

    def aside(self, recipe: Recipe, text: str, tray: Tray) -> Markup:
        """A note or a substitution: as a step where it has marks, else as typed."""
        pieces = read_aside(recipe, text)
        return Markup(block(text) if pieces is None else self.blocks(recipe, pieces, tray))

    def _use(self, recipe: Recipe, use: Use, before: str, tray: Tray) -> tuple[str, str]:
        """``before`` are the words right before the mark: "the {water: rest}" must not say "the" twice."""
        shown = self.figures(recipe, use)
        said = shown.ordered(self.channel.lead == "weight", brief=True)
        # "2 or 60 g shallots" would be a choice: what is counted has its weight beside it, in brackets but inside them
        between, end = (", ", "") if use.rest else (" (", ")") if len(said) > 1 else ("", "")
        if not shown.counted:
            between, end = f" {self.words('recipe.or')} ", ""
        html = between.join(f"<b>{escape(s.signed())}</b>" for s in said) + end
        words = between.join(s.words() for s in said) + end
        html = f"<i{tray.add(shown)}>{html}</i>" if html else ""
        name = str(use.name)
        named = name_html(name, self.channel.language)
        if not use.rest:
            source = f" {shown.source}" if shown.source and not said else ""
            return (
                f'<span class="use">{f"{html} " if html else ""}{named}{escape(source)}</span>',
                f"{words} {name}{source}".strip(),
            )
        lead = f"{self.words('recipe.the_rest_of')} "
        if re.search(r"\b(?:remaining|leftover|rest of (?:the|your))\s*$", before, re.IGNORECASE):
            lead = ""
        elif re.search(r"\bthe\s*$", before, re.IGNORECASE):
            lead = f"{self.words('recipe.rest_of')} "
        return (
            f'<span class="use">{escape(lead)}{named}{f" ({html})" if html else ""}</span>',
            f"{lead}{name}{f' ({words})' if words else ''}",
        )
