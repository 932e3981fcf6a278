"""A step's text: the cook's own words, less what is no cooking, with marks in place of what was measured."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from pipeline.film.align.folds import stop_words
from pipeline.film.draft.line import Line
from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.naming import UNITS
from pipeline.film.draft.parts import part_names
from pipeline.film.draft.scenes import Scene
from pipeline.film.draft.step_titles import STOP, step_title
from pipeline.film.draft.steps import Stretch, kitchen_words, weather
from pipeline.film.draft.typed import say_heats, say_times, say_typed
from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript
from pipeline.recipe.names import singular

_REACH = 12  # words between a name and the amount that follows it
_SCALE = re.compile(r"fahrenheit|celsius|centigrade|gas|degrees [cf]\b|\b[cf]\b|°")


@dataclass(frozen=True, slots=True)
class Told:
    """One step: its title, its text with marks, its moment (ms), and what to look at."""

    title: str
    text: str
    at: int
    part: str
    doubts: tuple[str, ...]


@dataclass(slots=True)
class Teller:
    """Tells the steps one after the other, and remembers which lines were used. ``flat``: captions without stops."""

    transcript: Transcript
    scenes: Sequence[Scene]
    plain: Sequence[str]
    heard: Sequence[Spoken]
    named: Sequence[Mention]
    lines: Sequence[Line]
    keys: Mapping[str, str]
    flat: bool = False
    used: set[int] = field(default_factory=set)

    def tell(self, steps: Sequence[Stretch]) -> list[Told]:
        """The steps' titles and texts, in order. ``keys``: for each part of the dish what the file calls it."""
        spans = [(self.scenes[s.first].first, self.scenes[s.last - 1].last) for s in steps]
        measured = {
            id(line)
            for line in self.lines
            for one in line.heard
            if any(a <= one.first < b for a, b in spans) and self._cooking(one.first)
        }
        titles: list[str] = []
        told: list[Told] = []
        things = ({line.head for line in self.lines} - stop_words()) | (set(part_names()) & set(self.plain))
        for step in [replace(step, part=self._part(step)) for step in steps]:
            text, doubts = self._text(step, measured)
            scenes = self.scenes[step.first : step.last]
            title = step_title([self._stopped(s) for s in scenes if s.stance == "use"], text, things)
            if not title and (told or not text):
                # no work of its own: it goes on with the step before it
                if told:
                    told[-1] = replace(
                        told[-1], text=f"{told[-1].text} {text}".strip(), doubts=(*told[-1].doubts, *doubts)
                    )
                continue
            title = title or "Begin"
            again = titles.count(title)
            titles.append(title)
            named = f"{title} ({again + 1})" if again else title
            told.append(Told(named, text, self.scenes[step.first].start, step.part, tuple(doubts)))
        return told

    def _part(self, step: Stretch) -> str:
        """The part of the dish that a step is of: its own, or that of all its amounts where they are of one other."""
        first, last = self.scenes[step.first].first, self.scenes[step.last - 1].last
        parts = {
            line.part
            for line in self.lines
            for one in line.heard
            if first <= one.first < last and self._cooking(one.first)
        }
        return parts.pop() if len(parts) == 1 else step.part

    def _stopped(self, scene: Scene) -> list[str]:
        """A sentence's words, bare, with STOP where it has a comma or another stop."""
        words: list[str] = []
        for i, word in enumerate(scene.plain, scene.first):
            words += [word, STOP] if self.transcript.words[i].text[-1:] in ".,;:!?" else [word]
        return words

    def _call(self, line: Line, part: str) -> str:
        """What a mark in a step of ``part`` calls a line, so that the reader finds that one."""
        words = tuple(singular(w) for w in line.name.split())
        others = [
            o
            for o in self.lines
            if o is not line
            and o.part != line.part
            and tuple(singular(w) for w in o.name.split())[-len(words) :] == words
        ]
        away = line.part != part and line.part in self.keys
        named = line.name in self.keys.values()
        return f"{line.name} of {self.keys[line.part]}" if away and (others or named) else line.name

    def _cooking(self, word: int) -> bool:
        return any(s.first <= word < s.last and s.stance == "use" for s in self.scenes)

    def _text(self, step: Stretch, measured: set[int]) -> tuple[str, list[str]]:
        doubts: list[str] = []
        marks = self._marks(step, measured, doubts)
        sentences: list[str] = []
        open_end = False
        done = 0  # one behind the last word that stands in the text already: an amount may end in the next sentence
        for scene in self.scenes[step.first : step.last]:
            marked = any(scene.first <= i < scene.last for i in marks)
            # without stops a "sentence" is a piece of one: without it the next one makes no sense
            cooks = self.flat or marked or kitchen_words(scene) or self._names_food(scene)
            if scene.stance != "use" or not cooks:
                open_end = False
                continue
            text, done = self._words(scene, marks, done)
            if not text:
                continue
            if open_end:
                sentences[-1] = f"{sentences[-1]} {text}"
            else:
                sentences.append(text)
            open_end = text[-1] not in ".?!"
        return " ".join(_sentence(s) for s in sentences), doubts

    def _names_food(self, scene: Scene) -> bool:
        return any(scene.first <= mention.first < scene.last for mention in self.named)

    def _words(self, scene: Scene, marks: Mapping[int, tuple[int, str]], done: int) -> tuple[str, int]:
        """The sentence from word ``done`` on, and one behind the last word that it took."""
        out: list[str] = []
        i = max(scene.first, done)
        while i < scene.last:
            if i in marks:
                end, mark = marks[i]
                tail = re.search(r"[.,;:!?…]*$", self.transcript.words[end - 1].text)
                stop = tail[0] if tail else ""
                if mark:
                    out.append(mark + stop)
                elif out and stop:
                    out[-1] = out[-1].rstrip(".,;:!?") + stop
                i = max(end, i + 1)
            else:
                out.append(self.transcript.words[i].text.replace("{", "{{").replace("}", "}}"))
                i += 1
        return " ".join(out), i

    def _marks(self, step: Stretch, measured: set[int], doubts: list[str]) -> dict[int, tuple[int, str]]:
        """Word index to (one behind the last word, mark) for what is replaced in this step."""
        first, last = self.scenes[step.first].first, self.scenes[step.last - 1].last
        found: dict[int, tuple[int, str]] = {}
        taken: set[int] = set()

        def put(a: int, b: int, mark: str) -> None:
            if not taken & set(range(a, b)):
                found[a] = (b, mark)
                taken.update(range(a, b))

        by_word = {one.first: line for line in self.lines for one in line.heard}
        for one in self.heard:
            if not first <= one.first < last or one.last > last or not self._cooking(one.first):
                continue
            if one.kind == "heat" and one.heats and not weather(one, self.plain):
                put(one.first, one.last, f"{{{say_heats(one.heats)}}}")
                both = {heat.scale for heat in one.heats} >= {"F", "C"}  # each tells which the other is
                if one.guessed and not both and not _SCALE.search(one.words.lower()):
                    doubts.append(f"“{one.words.strip(' .,')}”: the scale was not said")
            elif one.kind == "time" and one.times:
                put(one.first, one.last, f"{{{say_times(one.times)}}}")
            elif one.kind == "amount" and one.first in by_word:
                self._put_amount(one, by_word[one.first], step.part, first, put)
        for mention in self.named:
            if not first <= mention.first < last or not self._cooking(mention.first):
                continue
            line = self._unused(mention, step.part, measured)
            if line is not None:
                self.used.add(id(line))
                begin = mention.first
                if self.plain[begin - 1] == "of" and self.plain[begin - 2] in UNITS and begin - 2 >= first:
                    begin -= 2  # "stir in the cup of milk"
                put(begin, mention.last, f"{{{self._call(line, step.part)}}}")
        return found

    def _put_amount(self, one: Spoken, line: Line, part: str, first: int, put: Callable[[int, int, str], None]) -> None:
        name = self._call(line, part)
        if one.first in line.parts_said:
            amounts = " or ".join(say_typed(a) for a in line.parts_said[one.first] if a.unit.name)
            mark = f"{{{name}: {amounts}}}" if amounts else ""
        elif id(line) in self.used or line.parts_said:
            return
        else:
            mark = f"{{{name}}}"
        if not mark:
            return
        self.used.add(id(line))
        head = line.name.split()[-1]
        begin, last = one.first, one.last
        if self.plain[max(begin - 2, 0) : begin] == [head, "of"] and begin - 2 >= first:
            begin -= 2  # "the zest of one orange"
        if self.plain[last : last + 1] == ["of"] and self.plain[last + 1 : last + 2] in (["them"], ["it"]):
            last += 2  # "all nine hundred grams of them"
        behind = next(
            (m for m in self.named if last <= m.first <= last + 1 and line.row and m.row == line.row.name), None
        )
        if head not in self.plain[one.first : last] and behind is not None:
            last = behind.last
        if head not in self.plain[one.first : last]:
            near = [
                m
                for m in self.named
                if max(first, one.first - _REACH) <= m.first
                and m.last <= one.first
                and line.row is not None
                and m.row == line.row.name
            ]
            if near:
                put(near[-1].first, near[-1].last, mark)
                if near[-1].last == one.first or self._between_stops(one):
                    put(one.first, one.last, "")  # else the sentence would have a hole
                return
        put(begin, last, mark)

    def _between_stops(self, one: Spoken) -> bool:
        """Whether an amount has a comma or a stop on both sides, so that the sentence does without it."""
        words = self.transcript.words
        return words[one.first - 1].text[-1:] in ".,;:!?…" and words[one.last - 1].text[-1:] in ".,;:!?…"

    def _unused(self, mention: Mention, part: str, measured: set[int]) -> Line | None:
        """The line that a bare name means, where no amount will mark it and nothing has yet."""
        fit = [line for line in self.lines if line.row is not None and line.row.name == mention.row]
        fit = [line for line in fit if line.part == part] or fit
        return next((line for line in fit if id(line) not in self.used and id(line) not in measured), None)


def _sentence(text: str) -> str:
    """With a capital and a full stop."""
    text = text[:1].upper() + text[1:] if text[:1] != "{" else text
    return text if text[-1:] in ".?!…" else text.rstrip(",;:") + "."
