"""What is said and not written, written and not said, or said twice where the page settles nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from pipeline.film.clock import say_moment
from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.mending import amount_screen, said_text, written_text
from pipeline.film.compare.remark import Remark
from pipeline.film.compare.stating import beside
from pipeline.film.compare.targets import Written
from pipeline.film.compare.whose import DOUBT, talk_doubt
from pipeline.film.spoken.said import Spoken
from pipeline.measure.phrase import tokens

# What a kitchen has at hand and no list need name. Common practice, no source.
_STAPLES = frozenset(("water", "oil", "flour", "salt", "pepper", "butter", "ice", "sugar", "vinegar", "milk"))
# Words for the dish itself while it is made.
_MADE = frozenset(
    """
    dough batter mixture mix filling sauce syrup glaze icing marinade brine broth soup jam dressing topping crumb
    crust base stuff thing liquid juice fat drippings pasta cake bread
    """.split()  # noqa: SIM905
)
# Of the lines that have an amount, the share that a film must speak before silence about one is worth a word.
_SPOKEN = 0.75
_FEWEST = 5
# With so much doubt whose it is, an ingredient that the page does not have is somebody else's.
_OTHERS = 1.4
_NAMED = 10  # words on either side of an amount in which what it is of is named
_BACK = 24  # words before an amount that may name what it is of


def unwritten_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[Remark]:
    """Amounts of an ingredient that the page does not have, once for each ingredient."""
    source = frozenset(tokens(film.recipe.source))
    seen: set[str] = set()
    for index, utterance in enumerate(film.utterances):
        said = utterance.said
        if (
            said.kind != "amount"
            or utterance.scope not in ("use", "list", "recap")
            or not said.match
            or utterance.lines
        ):
            continue
        words = tokens(said.ingredient)
        if said.match.how == "spelling" or not words or said.match.row.name in seen:
            continue
        kinds = {a.unit.kind for a in said.amounts}
        if not kinds & {"mass", "volume"} or said.guessed:
            continue
        # a name that stands anywhere on the page, or that the page has under another name, is written
        if words[-1] in source or set(tokens(said.match.row.name)) <= source or words[-1] in _MADE:
            continue
        own = words[-1] in tokens(said.words)
        if not own and _likened(film, said, words[-1]):
            continue
        doubted = talk_doubt(film, index, chosen)
        if doubted >= _OTHERS:
            continue
        seen.add(said.match.row.name)
        doubt = doubted >= DOUBT or not own or words[-1] in _STAPLES or said.match.how == "inside" or film.speech.flat
        yield Remark(
            kind="unwritten",
            weight="doubtful" if doubt else "clear",
            at=said.start,
            words=said.words,
            name=said.ingredient,
            said=said_text(said.amounts[0]),
            written="",
            span=film.recipe.spans.get("ingredients") or film.recipe.components[0].span,
            spoken=said,
        )


def _likened(film: Film, said: Spoken, name: str) -> bool:
    """Whether the name stands before the amount only to say what something is like: "soft, like hand cream"."""
    for i in range(said.first - 1, max(said.first - _BACK, -1), -1):
        if tokens(film.speech.bare[i])[-1:] == (name,):
            before = film.speech.bare[max(i - 3, 0) : i]
            return "like" in before or "as" in before
    return False


def unsaid_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[Remark]:
    """Lines whose amount is never said, where nearly all others are."""
    if film.speech.flat:
        return  # machines drop words: silence proves nothing
    with_amounts = [w for w in film.written if w.listed.line.amounts]
    said = {b.candidate.listed.place for b in chosen.values()}
    for utterance in film.utterances:
        said |= {b.candidate.listed.place for b in utterance.lines}
    told = [w for w in with_amounts if w.listed.place in said]
    if len(told) < _FEWEST or len(told) < _SPOKEN * len(with_amounts):
        return
    for one in with_amounts:
        if one.listed.place in said or one.listed.line.optional or _said_near(film, one):
            continue
        line = one.listed.line
        first = line.amounts[0]
        yield Remark(
            kind="unsaid",
            weight="clear",
            at=None,
            words="",
            name=str(line.name),
            said="",
            written=written_text(first, line.size),
            span=line.item_spans[0] if line.item_spans else line.span,
            line=line,
            screen=amount_screen(one.targets[0], line, film.standard),
        )


def _said_near(film: Film, one: Written) -> bool:
    """Whether its amount is said near its name, of whatever it was heard: "the sage leaves, sixteen of them"."""
    mine = frozenset(one.listed.words)
    for utterance in film.utterances:
        said = utterance.said
        if said.kind != "amount" or not one.targets:
            continue
        near = tokens(film.speech.text(said.first - _NAMED, said.last + _NAMED))
        if len(mine & frozenset(near)) < min(len(mine), 2):
            continue
        amounts = [a for t in one.targets for a in t.amounts]
        if any(beside(a, amounts, None, "", film.standard).rank == 0 for a in said.amounts):
            return True
    return False


def twice_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[Remark]:
    """One ingredient said with two numbers where the page has none to settle it."""
    if film.speech.flat:
        return  # without stops nobody knows which of two names a number is of
    groups: dict[str, list[tuple[Utterance, Best | None]]] = {}
    for index, utterance in enumerate(film.utterances):
        said = utterance.said
        if said.kind != "amount" or utterance.scope == "apart" or not said.amounts:
            continue
        best = chosen.get(index)
        if best is not None and best.judged is not None and best.judged.status != "unknown":
            continue
        name = str(best.candidate.listed.line.name) if best else said.match.row.name if said.match else ""
        if talk_doubt(film, index, chosen) >= DOUBT:
            continue
        if name and (best is None or best.candidate.sure) and (best or tokens(said.ingredient)[-1:][0] not in _STAPLES):
            groups.setdefault(name, []).append((utterance, best))
    for name, said_of in groups.items():
        for (one, best), (other, _) in combinations(said_of, 2):
            if {one.scope, other.scope} == {"use"} and one.said.start != other.said.start:
                continue  # twice in the film's run may be twice as much
            judged = min((beside(a, other.said.amounts, None) for a in one.said.amounts), key=lambda j: j.rank)
            if judged.status != "disagrees" or not judged.direct:
                continue
            line = best.candidate.listed.line if best else None
            yield Remark(
                kind="twice",
                weight="doubtful",
                at=other.said.start,
                words=other.said.words,
                name=name,
                said=said_text(other.said.amounts[0]),
                written=said_text(judged.said),
                span=line.span if line else film.recipe.title.span,
                spoken=other.said,
                line=line,
                verdict=judged.verdict(),
                hint=f"at {say_moment(one.said.start, hours=True)}",
            )
            break
