"""From captions to a first recipe.yaml. What was not heard is not in it; what is not sure says so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from pipeline.film.align.folds import bare
from pipeline.film.clock import say_moment
from pipeline.film.draft.events import Ears
from pipeline.film.draft.heading import Guess, capitals_of, most_named, title_of, titled, yield_of
from pipeline.film.draft.line import Line
from pipeline.film.draft.lines import Gathered, Gatherer
from pipeline.film.draft.mentions import Mention, mentions
from pipeline.film.draft.parts import MAIN, made_here, part_names, parts_of
from pipeline.film.draft.pints import with_own_pints
from pipeline.film.draft.remarks import about_line, line_text
from pipeline.film.draft.scenes import Scene, scenes, stopped
from pipeline.film.draft.second import second_uses
from pipeline.film.draft.slips import put_right
from pipeline.film.draft.steps import stretches
from pipeline.film.draft.telling import Teller, Told
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.heard import heard
from pipeline.film.spoken.things import Finds
from pipeline.film.transcript import Transcript
from pipeline.measure.record import replace as replace_record
from pipeline.recipe.layout import Row, beside, block, clean, key, listing, remark, scalar, slug_line
from pipeline.recipe.read import SourceError, read_text

_NOTHING = "ingredient"
_CAPTIONS = "captions.vtt"
_TRIES = 6
# Captions with so many of their words in capitals are shouted all through.
_SHOUTED = 0.9
# A part of a dish that is made here is named so many times at least.
_OFTEN = 3
# "A tea towel", "a soup spoon".
_CLOTH = word_set("towel towels spoon bowl cup cups plate dish pan tray")


@dataclass(frozen=True, slots=True)
class _Film:
    """All that was made out of a film."""

    title: Guess | None
    yields: Guess | None
    gathered: Gathered
    parts: Mapping[str, tuple[str, str]]
    steps: Sequence[Told]
    bare_names: Sequence[tuple[str, int]]
    capitals: Mapping[str, str]
    away: bool = False


def draft_from(transcript: Transcript, table: Finds, captions: str = "", stem: str = "", *, away: bool = False) -> str:
    """A first recipe.yaml, as text, from captions alone. Never raises; the reader takes it, whatever was said.

    ``table`` is the ingredient table. ``captions``: the captions' file name as it will stand beside the recipe
    (the transcript's own by default), ``away`` where they are yet to be put there; ``stem``: the title where none was
    heard.
    """
    film = replace(_read(transcript, table), away=away)
    name = captions or Path(transcript.path).name
    plain: set[int] = set()
    for _ in range(_TRIES):
        text, places = _written(film, name, stem, plain)
        try:
            read_text(text, Path("recipe.yaml"))
        except SourceError as error:
            # A mark that the reader does not take: that step goes without marks.
            lines = [problem.span.line for problem in error.problems]
            wrong = {n for n, (low, high) in enumerate(places) if any(low <= line < high for line in lines)} - plain
            if not wrong and film.yields is None:
                if name == _CAPTIONS:
                    break
                name = _CAPTIONS  # a file's name that the reader does not take
            plain |= wrong
            if not wrong:
                film = replace(film, yields=None)
        else:
            return text
    return _written(_Film(film.title, None, Gathered(), {}, (), (), {}), name, stem, set())[0]


def _read(transcript: Transcript, table: Finds) -> _Film:
    transcript = _calm(transcript)
    said = with_own_pints(heard(transcript, table))
    plain = [bare(word.text) for word in transcript.words]
    ends = [word.text[-1:] in ".,;:!?" for word in transcript.words]
    told = scenes(transcript, said)
    parts, main = parts_of(told, said, transcript)
    foods_named = mentions(plain, ends, table)
    named = [m for m in foods_named if not m.like]
    likened = [m for m in foods_named if m.like]
    flat = not stopped(transcript)
    ears = Ears(told, parts, plain, named, lambda i: transcript.words[i].start, table, ends, flat, likened)
    events = second_uses(put_right(ears.events(said), plain, ends), plain, flat)
    gathered = Gatherer(parts, plain, flat).gather(events)
    foods = frozenset(w for m in named for w in plain[m.first : m.last])
    title = title_of(transcript, told, foods)
    home = _settle(gathered.lines, parts, title, main)
    both = _of_parts(gathered.lines, plain)
    if title is None or (both is not None and bare(title.text) in part_names()):
        title = both or title or most_named(transcript, foods)
    steps = stretches(told, [home.get(p, p) for p in parts], said, gathered.lines)
    titles = _titles(gathered.lines, plain)
    keys = {part: name for part, (name, _) in titles.items()} if len(titles) > 1 else {}
    spoken_steps = Teller(transcript, told, plain, said, named, gathered.lines, keys, flat).tell(steps)
    names = _bare(named, told, gathered)
    return _Film(title, yield_of(told), gathered, titles, spoken_steps, names, capitals_of(transcript))


def _calm(transcript: Transcript) -> Transcript:
    """Captions that are all in capitals, as broadcasters make them, in small letters; others as they are."""
    words = [word.text for word in transcript.words if word.text.lower() != word.text.upper()]
    if not words or sum(1 for text in words if text == text.upper()) < _SHOUTED * len(words):
        return transcript
    small = []
    begins = True
    for word in transcript.words:
        text = word.text.lower()
        text = text.capitalize() if begins or text.strip(".,;:!?") == "i" or text.startswith("i'") else text
        begins = text[-1:] in ".!?"
        small.append(replace_record(word, text=text))
    return replace_record(transcript, words=tuple(small))


def _settle(lines: Sequence[Line], parts: Sequence[str], title: Guess | None, main: str) -> dict[str, str]:
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


def _of_parts(lines: Sequence[Line], plain: Sequence[str]) -> Guess | None:
    """A title from two parts that have names: "Jam and Pickles"."""
    named = [word for part, (word, _) in _titles(lines, plain).items() if part != MAIN]
    if len(named) != 2 or len({line.part for line in lines}) != 2:
        return None
    return Guess(titled([named[0], "and", named[1]]), f"{named[0]} and {named[1]}", min(line.start for line in lines))


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
        word = max(families.get(line.part, [line.part]), key=lambda w: said[w]) if line.part else _main(said, lines)
        own = key(word, [k for k, _ in result.values()])
        result[line.part] = own, f"For the {own}"
    return result


def _main(said: Mapping[str, int], lines: Sequence[Line]) -> str:
    """What the part without a name is called in the film: the part that is named most and has no lines."""
    taken = {line.part for line in lines}
    found = {word: said[word] for word, part in part_names().items() if part not in taken and made_here(word)}
    best = max(found, key=lambda word: found[word], default="")
    return best if best and found[best] >= _OFTEN else "main part"


def _bare(named: Sequence[Mention], told: Sequence[Scene], gathered: Gathered) -> list[tuple[str, int]]:
    """Foods named while cooking that no line has, with the moment (ms) of the first time."""
    rows = {line.row.name for line in gathered.lines if line.row}
    heads = {word for line in gathered.lines for word in line.name.split()}
    parts = part_names()
    found: dict[str, tuple[str, int]] = {}
    scene = iter(told)
    here = next(scene, None)
    for mention in named:
        while here is not None and here.last <= mention.first:
            here = next(scene, None)
        if here is None:
            break
        words = here.plain[mention.first - here.first : mention.last - here.first]
        if here.stance not in ("use", "list") or not words or mention.row in rows or mention.row in found:
            continue
        after = here.plain[mention.last - here.first :][:1]
        known = any(word in parts or any(name.endswith(word) for name in heads) for word in words)
        if known or words[-1].endswith("'s") or (after and after[0] in _CLOTH):
            continue
        found[mention.row] = " ".join(words), here.start
    return list(found.values())


def _written(film: _Film, captions: str, stem: str, plain: set[int]) -> tuple[str, list[tuple[int, int]]]:
    """The file's text, and for each step its first line (from 1) and the one behind its last; ``plain`` steps have no
    marks."""
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
    out += slug_line(title or stem or "Untitled recipe")
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
    places: list[tuple[int, int]] = []
    for n, step in enumerate(film.steps):
        first = len(out) + 1
        out += _step(step, film, n not in plain)
        places.append((first, len(out) + 1))
    if not film.steps:
        out += ["  - title: First step", "    text: No cooking was made out in these captions."]
    out += [
        "",
        "video:",
        *([f"  # check: copy {clean(captions)} into this folder"] if film.away else []),
        f"  captions: {scalar(captions or _CAPTIONS)}",
        "  # address: https://",
        "  # length: 12:34",
    ]
    return "\n".join(out) + "\n", places


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
            out += listing([Row(line_text(line, film.capitals), about_line(line)) for line in own], 6)
    else:
        out.append("ingredients:")
        out += listing([Row(line_text(line, film.capitals), about_line(line)) for line in lines], 2)
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
