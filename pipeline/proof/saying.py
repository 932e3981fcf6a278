"""What the film says against the page, compared once for all checks that ask, and its remarks put into findings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from pipeline.film.clock import say_moment
from pipeline.proof.finding import Bench, Edit, Finding, Fix, Severity

# Comparing is loaded only where there are captions to compare: a check without them starts quick.
if TYPE_CHECKING:
    from pipeline.film.compare.remark import Remark, RemarkKind

# How much a remark weighs here: only what cannot be right stops publishing.
_DIFFERS: dict[str, Severity] = {"clear": "error", "doubtful": "warning", "loose": "note", "misheard": "note"}


def severity(remark: Remark) -> Severity:
    """Error, warning or note, by the remark's kind and weight."""
    if remark.kind in ("differs", "pair"):
        return _DIFFERS[remark.weight]
    if remark.kind == "unwritten":
        return "warning" if remark.weight == "clear" else "note"
    return "warning" if remark.kind == "twice" else "note"


def remarks(bench: Bench) -> tuple[Remark, ...]:
    """All remarks of the film beside its page; none without captions. Ask for it with ``bench.once``."""
    if bench.transcript is None or not bench.transcript.words:
        return ()
    from pipeline.film.compare import said_against

    steps = bench.recipe.steps
    marks = None
    if 2 * sum(step.at is not None for step in steps) < len(steps):
        from pipeline.film.align import align

        marks = align(bench.recipe, bench.transcript, bench.table)
    return said_against(bench.recipe, bench.transcript, bench.table, bench.channel.cup, marks)


def findings(bench: Bench, check: str, kind: RemarkKind) -> Iterator[Finding]:
    """The findings of one check: every remark of its kind."""
    for remark in bench.once(remarks):
        if remark.kind == kind:
            yield Finding(
                check,
                severity(remark),
                remark.span,
                _message(remark),
                why=_why(remark),
                fixes=tuple(_fixes(remark)),
                at=remark.at,
            )


def _message(remark: Remark) -> str:
    said, written, name = remark.said, remark.written, remark.name
    if remark.kind == "pair":
        return f"`{said}` and `{written}` are said of {name} and are not the same{_gap(remark, 'the first')}"
    if remark.kind == "unwritten":
        return f"`{said}` of {name} is said, and the list has no {name}"
    if remark.kind == "twice":
        return f"`{said}` of {name} is said, and `{written}` {remark.hint}"
    if remark.kind == "unsaid":
        return f"`{written}` of {name} is written and never said"
    what = f"in {name}" if remark.line is None else f"of {name}"
    if remark.weight == "misheard":
        return f"`{said}` was caught {what}, `{written}` is written: it may be misheard"
    if remark.weight == "loose":
        return f"`{said}` is said {what}, `{written}` is written: they agree only loosely"
    return f"`{said}` is said {what}, `{written}` is written{_gap(remark, 'what is said')}"


def _gap(remark: Remark, subject: str) -> str:
    """How far apart two amounts are; nothing for heats and times, whose numbers speak for themselves."""
    if remark.verdict is None or remark.spoken is None or remark.spoken.kind != "amount":
        return ""
    ratio = 1 + remark.verdict.off
    if ratio >= 1.95:
        return f": {subject} is {_times(ratio)} times as much"
    if 0 < ratio <= 1 / 1.95:
        other = "the second" if subject == "the first" else "what is written"
        return f": {other} is {_times(1 / ratio)} times as much"
    return f": {subject} is {abs(ratio - 1) * 100:.2g} % {'more' if ratio > 1 else 'less'}"


def _times(ratio: float) -> str:
    return f"{ratio:.0f}" if ratio >= 9.5 else f"{ratio:.1f}".removesuffix(".0")


def _why(remark: Remark) -> str:
    grounds: list[str] = []
    if remark.words and remark.at is not None:
        grounds.append(f"the words at {say_moment(remark.at, hours=True)}: “{_short(remark.words)}”")
    verdict = remark.verdict
    if verdict is not None and verdict.row is not None:
        grounds.append(verdict.why)
    if verdict is not None and verdict.slip is not None and verdict.slip.id != "stale" and remark.weight == "clear":
        grounds.append(verdict.slip.words.replace(" written for ", " said for "))
    if remark.kind != "twice":
        grounds.append(remark.hint)
    if remark.weight == "doubtful" and remark.kind == "differs":
        grounds.append("that it was said of this is likely, not certain")
    if remark.kind == "unsaid":
        grounds.append("nearly every other amount of the list is said")
    return "; ".join(ground for ground in grounds if ground)


def _short(words: str) -> str:
    words = " ".join(words.split())
    return words if len(words) <= 90 else words[:88].rsplit(" ", 1)[0] + " …"


def _fixes(remark: Remark) -> Iterator[Fix]:
    moment = say_moment(remark.at, hours=True) if remark.at is not None else ""
    if remark.weight == "misheard":
        yield Fix(f"listen at {moment}: where the captions misheard, mend them")
    if remark.kind == "unwritten":
        yield Fix(f"add {remark.name} to the list with its amount, or cut it from the film")
        return
    if remark.kind == "twice":
        yield Fix(f"write the right amount of {remark.name} on the page")
        return
    if remark.screen:
        if_right = "" if remark.kind == "unsaid" else ", if the page is right"
        when = f"on screen from {moment}" if moment else "on screen where it goes in"
        yield Fix(f"{when}: `{remark.screen}`{if_right}")
    if remark.kind == "differs":
        if remark.edits:
            texts = " and ".join(f"`{text}`" for _, text in remark.edits)
            edits = tuple(Edit(span, text) for span, text in remark.edits)
            yield Fix(f"on the page: {texts}, if what is said is right", edits)
        else:
            yield Fix(f"mend `{remark.written}` on the page, if what is said is right")
    elif remark.kind == "pair" and remark.verdict is not None:
        for pair in remark.verdict.fixes:
            yield Fix(f"say `{pair}`")
