"""From captions to a first recipe.yaml. What was not heard is not in it; what is not sure says so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from pipeline.film.align.folds import bare
from pipeline.film.clock import say_moment
from pipeline.film.draft.heading import Guess, title_of, yield_of
from pipeline.recipe.layout import Row, beside, block, clean, key, listing, remark, scalar
from pipeline.film.draft.lines import Gathered, Gatherer, Line
from pipeline.film.draft.mentions import Mention, mentions
from pipeline.film.draft.parts import MAIN, part_names, parts_of
from pipeline.film.draft.remarks import about_line, line_text
from pipeline.film.draft.scenes import Scene, scenes
from pipeline.film.draft.steps import stretches
from pipeline.film.draft.telling import Teller, Told
from pipeline.film.spoken.heard import heard
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.film.transcript import Transcript
from pipeline.recipe.read import SourceError, read_text

_NOTHING = "ingredient"


@dataclass(frozen=True, slots=True)
class _Film:
    """All that was made out of a film."""

    title: Guess | None
    yields: Guess | None
    gathered: Gathered
    parts: Mapping[str, tuple[str, str]]
    steps: Sequence[Told]
    bare_names: Sequence[tuple[str, int]]


def draft_from(transcript: Transcript, table: Finds, captions: str = "", stem: str = "") -> str:
    """A first recipe.yaml, as text, from captions alone. Never raises; the reader takes it, whatever was said.

    ``table`` is the ingredient table. ``captions``: the captions' file name as it will stand beside the recipe
    (the transcript's own by default); ``stem``: the title where none was heard.
    """
    film = _read(transcript, table)
    name = captions or Path(transcript.path).name
    for marked in (True, False):
        text = _written(film, name, stem, transcript, marked)
        try:
            read_text(text, Path("draft.yaml"))
        except SourceError:
            continue
        return text
    return _written(_Film(film.title, None, Gathered(), {}, (), ()), name, stem, transcript, False)


def _read(transcript: Transcript, table: Finds) -> _Film:
    said = heard(transcript, table)
    plain = [bare(word.text) for word in transcript.words]
    ends = [word.text[-1:] in ".,;:!?" for word in transcript.words]
    told = scenes(transcript, said)
    parts, main = parts_of(told, said, transcript)
    named = mentions(plain, ends, table)
    gathered = Gatherer(told, parts, plain, named, lambda i: transcript.words[i].start, table).gather(said)
    title = title_of(transcript, told)
    home = _settle(gathered.lines, parts, title, main)
    steps = stretches(told, [home.get(p, p) for p in parts], said, gathered.lines)
    calls = _calls(gathered.lines, home)
    spoken_steps = Teller(transcript, told, plain, said, named, gathered.lines, calls).tell(steps)
    return _Film(title, yield_of(told), gathered, _titles(gathered.lines, plain), spoken_steps, _bare(named, told, gathered))


def _settle(
    lines: Sequence[Line], parts: Sequence[str], title: Guess | None, main: str
) -> dict[str, str]:
    """Where each part's talk belongs: parts without lines of their own go to the main part; the main part goes to
    the part that the dish is named after, where there is one. The lines are moved."""
    names = {line.part for line in lines}
    home = {part: part if part in names else MAIN for part in {*parts, *names}}
    if MAIN in names and main:
        home = {part: main if to == MAIN else to for part, to in home.items()}
    elif MAIN in names and len(names) > 1 and title is not None:
        words = [part_names().get(bare(w)) for w in title.text.lower().split()]
        own = next((w for w in words if w in names), None)
        if own is not None:
            home = {part: own if to == MAIN else to for part, to in home.items()}
    elif MAIN not in names and names:
        first = lines[0].part
        home = {part: first if to == MAIN else to for part, to in home.items()}
    for line in lines:
        line.part = home.get(line.part, line.part)
    if len({line.part for line in lines}) == 1:
        for line in lines:
            line.part = MAIN
        home = dict.fromkeys(home, MAIN)
    return home


def _titles(lines: Sequence[Line], plain: Sequence[str]) -> dict[str, tuple[str, str]]:
    """Each part with its key and its title, in the order of the lines."""
    said = Counter(plain)
    families: dict[str, list[str]] = {}
    for word, part in part_names().items():
        families.setdefault(part, []).append(word)
    result: dict[str, tuple[str, str]] = {}
    for line in lines:
        if line.part in result:
            continue
        word = max(families.get(line.part, [line.part]), key=lambda w: said[w]) if line.part else "main part"
        own = key(word, [k for k, _ in result.values()])
        result[line.part] = own, f"For the {own}"
    return result


def _calls(lines: Sequence[Line], home: Mapping[str, str]) -> dict[int, str]:
    """What a mark calls each line: its name, which is the line's, for the reader finds it from there."""
    return {id(line): line.name for line in lines}


def _bare(named: Sequence[Mention], told: Sequence[Scene], gathered: Gathered) -> list[tuple[str, int]]:
    """Foods named while cooking that no line has, with the moment (ms) of the first time."""
    rows = {line.row.name for line in gathered.lines if line.row}
    heads = {line.head for line in gathered.lines}
    found: dict[str, tuple[str, int]] = {}
    scene = iter(told)
    here = next(scene, None)
    for mention in named:
        while here is not None and here.last <= mention.first:
            here = next(scene, None)
        if here is None:
            break
        words = " ".join(here.plain[mention.first - here.first : mention.last - here.first])
        if here.stance not in ("use", "list") or mention.row in rows or words.split()[-1:] and words.split()[-1] in heads:
            continue
        if words and mention.row not in found and words not in part_names():
            found[mention.row] = words, here.start
    return list(found.values())


def _written(film: _Film, captions: str, stem: str, transcript: Transcript, marked: bool) -> str:
    out = [
        "# A first draft, made from the captions. Nothing was measured for you: every amount is as it was heard, with",
        "# its moment in the film. Lines that say `check:` are not sure. `levelcup check` says what is missing.",
    ]
    title = clean(film.title.text) if film.title else ""
    if film.title and title:
        words = clean(film.title.words)
        out.append(beside(f"title: {scalar(title)}", f"guessed from “{words}” at {say_moment(film.title.at)}"))
    else:
        out.append(beside(f"title: {scalar(stem or 'Untitled recipe')}", "no name was heard: write the dish's"))
    out.append(beside("draft: true", "take this line out to publish, and give the date instead:"))
    out.append("# published: 2026-01-31")
    out.append(beside('summary: ""', "one or two sentences: the hook under the film"))
    if film.yields:
        said = f"heard “{film.yields.words}” at {say_moment(film.yields.at)}"
        out.append(beside(f"yield: {scalar(film.yields.text)}", said))
    else:
        out.append(beside("# yield: serves 4", "not heard"))
    out += ["# times: {prep: 20 min, cook: 1 h}", ""]
    out += _ingredients(film)
    out += ["", "# The words are yours, the titles are guesses.", "steps:"]
    for step in film.steps:
        out += _step(step, film, marked)
    if not film.steps:
        out += ["  - title: First step", "    text: No cooking was made out in these captions."]
    out += ["", "video:", f"  captions: {scalar(captions or 'captions.vtt')}", "  # address: https://", "  # length: 12:34"]
    return "\n".join(out) + "\n"


def _ingredients(film: _Film) -> list[str]:
    lines, parts = film.gathered.lines, film.parts
    out: list[str] = []
    if not lines:
        out.append("ingredients:")
        if film.bare_names:
            rows = [Row(name, f"check: named at {say_moment(at)}, no amount was heard") for name, at in film.bare_names]
        else:
            rows = [Row(_NOTHING, "check: no ingredient was heard; write one line for each")]
        return [*out, *listing(rows, 2)]
    if len(parts) > 1:
        out.append("components:")
        for part, (name, title) in parts.items():
            own = [line for line in lines if line.part == part]
            out += [f"  {scalar(name)}:", f"    title: {scalar(title)}", "    ingredients:"]
            out += listing([Row(line_text(line), about_line(line)) for line in own], 6)
    else:
        out.append("ingredients:")
        out += listing([Row(line_text(line), about_line(line)) for line in lines], 2)
    if film.bare_names:
        out.append("# Named, but no amount was heard; give a line to those that belong in:")
        out += [f"{remark(f'  {name} ({say_moment(at)})')}" for name, at in film.bare_names]
    if film.gathered.lost:
        out.append("# Amounts that were heard, but not of what:")
        out += [remark(f"  {say_moment(one.start)}: “{one.words.strip(' .,')}”") for one in film.gathered.lost]
    return out


def _step(step: Told, film: _Film, marked: bool) -> list[str]:
    out: list[str] = []
    for doubt in step.doubts:
        out.append(f"  {remark(f'check: {doubt}')}")
    head = "  - "
    if len(film.parts) > 1:
        name = film.parts[step.part][0] if step.part in film.parts else next(iter(film.parts.values()))[0]
        out.append(f"{head}component: {scalar(name)}")
        head = "    "
    out.append(f"{head}title: {scalar(step.title)}")
    out.append(f"    at: {say_moment(step.at)}")
    text = step.text if marked else step.text.replace("{{", "").replace("}}", "").replace("{", "").replace("}", "")
    lines = block(text, 6) or ["      No words."]
    return [*out, "    text: |", *lines]


def lost_words(lost: Sequence[Spoken]) -> list[str]:
    """The exact words of amounts without an ingredient."""
    return [one.words for one in lost]
