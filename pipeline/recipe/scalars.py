"""From a scalar's value back to the file: where each of its characters was typed.

libyaml tells where a scalar begins and ends, not how its escapes and folded lines map. Each style is walked here once
more (YAML 1.1, chapter 9). Only a scalar of several lines or with escapes comes this way; the rest map one to one.
"""

from __future__ import annotations

import re

Places = tuple[tuple[int, ...], tuple[int, ...]]  # where each character begins (one more at the end), and ends

_BREAK = re.compile(r"\r\n|\n|\r")
_ESCAPE = re.compile(r"\\(?:x[0-9A-Fa-f]{2}|u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|[^\r\n])")
_BLANK = " \t"


def places_of(text: str, start: int, end: int, style: str, value: str) -> Places:
    """Where ``value``, the scalar at ``text[start:end]``, was typed. ``style`` is "" (plain), ' " | or >."""
    if style in ("|", ">"):
        walk = _literal(text, start, end, value) if style == "|" else _folded(text, start, end, value)
    elif style:
        walk = _flow(text, start + 1, end - 1, style)
    else:
        walk = _flow(text, start, end, "")
    if len(walk[0]) != len(value):  # a case not thought of: nearly right is better than none
        walk = _greedy(text, start, end, value)
    begins, ends = walk
    return (*begins, ends[-1] if ends else start), tuple(ends)


_Walk = tuple[list[int], list[int]]


def _flow(text: str, start: int, end: int, quote: str) -> _Walk:
    """Plain and quoted scalars: a single break is a space, a blank line a break, white space around breaks is none."""
    begins: list[int] = []
    ends: list[int] = []
    pos = start

    def put(at: int, to: int) -> None:
        begins.append(at)
        ends.append(to)

    while pos < end:
        char = text[pos]
        if char in "\r\n" or (char in _BLANK and (m := re.compile(r"[ \t]+(?=[\r\n])").match(text, pos, end))):
            if char in _BLANK and m:
                pos = m.end()
            pos = _breaks(text, pos, end, put)
        elif quote == "'" and char == "'":
            put(pos, pos + 2)
            pos += 2
        elif quote == '"' and char == "\\":
            m = _ESCAPE.match(text, pos, end)
            if m:
                put(pos, m.end())
                pos = m.end()
            else:  # an escaped break: the line goes on, and blank lines after it are breaks
                first = _BREAK.match(text, pos + 1, end)
                pos = first.end() if first else pos + 1
                pos = _breaks(text, pos, end, put, first=False)
        else:
            put(pos, pos + 1)
            pos += 1
    return begins, ends


def _breaks(text: str, pos: int, end: int, put: object, first: bool = True) -> int:
    """Folds the breaks from ``pos`` on and the white space after them; where the text goes on."""
    found: list[re.Match[str]] = []
    while True:
        here = pos
        while here < end and text[here] in _BLANK:
            here += 1
        m = _BREAK.match(text, here, end)
        if m is None:
            pos = here
            break
        found.append(m)
        pos = m.end()
    assert callable(put)
    if first and len(found) == 1:
        put(found[0].start(), found[0].end())
    else:
        for m in found[1:] if first else found:
            put(m.start(), m.end())
    return pos


def _lines(text: str, start: int, end: int) -> list[tuple[int, int, int]]:
    """A block scalar's lines after its header: (begin, end without the break, end with it)."""
    header = _BREAK.search(text, start, end)
    if header is None:
        return []
    lines: list[tuple[int, int, int]] = []
    pos = header.end()
    while pos < end:
        m = _BREAK.search(text, pos, end)
        stop, after = (m.start(), m.end()) if m else (end, end)
        lines.append((pos, stop, after))
        pos = after
    return lines


def _literal(text: str, start: int, end: int, value: str) -> _Walk:
    begins: list[int] = []
    ends: list[int] = []
    lines = _lines(text, start, end)
    parts = value.split("\n")
    for i, part in enumerate(parts):
        begin, stop, after = lines[i] if i < len(lines) else (end, end, end)
        at = max(begin, stop - len(part))
        if text[at:stop] != part:
            return [], []
        begins.extend(range(at, stop))
        ends.extend(range(at + 1, stop + 1))
        if i < len(parts) - 1:
            begins.append(stop)
            ends.append(after)
    return begins, ends


def _folded(text: str, start: int, end: int, value: str) -> _Walk:
    begins: list[int] = []
    ends: list[int] = []
    lines = _lines(text, start, end)
    filled = [(b, s, a) for b, s, a in lines if text[b:s].strip(" ")]
    if not filled:
        breaks = [(s, a) for _, s, a in lines][: len(value)]
        return [s for s, _ in breaks], [a for _, a in breaks]
    # The first line with text sets the indentation, or an indicator in the header did: then it may begin with spaces.
    first = text[filled[0][0] : filled[0][1]]
    lead = len(value) - len(value.lstrip("\n"))
    spaces = len(value) - lead - len(value[lead:].lstrip(" "))
    indent = len(first) - len(first.lstrip(" ")) - spaces
    k = 0
    waiting: list[tuple[int, int]] = []
    for begin, stop, after in lines:
        content = text[begin + indent : stop] if stop - begin > indent else ""
        if content:
            count = 0
            while k + count < len(value) and value[k + count] == "\n":
                count += 1
            if count == 0 and waiting:
                if k >= len(value) or value[k] != " ":
                    return [], []
                begins.append(waiting[0][0])
                ends.append(waiting[0][1])
                k += 1
            else:
                for at, to in waiting[len(waiting) - count :] if count <= len(waiting) else []:
                    begins.append(at)
                    ends.append(to)
                k += count
            if value[k : k + len(content)] != content:
                return [], []
            begins.extend(range(stop - len(content), stop))
            ends.extend(range(stop - len(content) + 1, stop + 1))
            k += len(content)
            waiting = []
        if after > stop:
            waiting.append((stop, after))
    for at, to in waiting[: len(value) - k]:
        begins.append(at)
        ends.append(to)
    return begins, ends


def _greedy(text: str, start: int, end: int, value: str) -> _Walk:
    begins: list[int] = []
    ends: list[int] = []
    pos = start
    for char in value:
        found = text.find(char, pos, end)
        at = found if found >= 0 else min(pos, max(end - 1, start))
        begins.append(at)
        ends.append(at + 1)
        pos = at + 1 if found >= 0 else pos
    return begins, ends
