"""Markdown as the cook types it, made safe: raw HTML shows as typed, links go only where links may go.

The parser is markdown-it-py (CommonMark). Most of what a recipe says has no markup in it, and such text never
reaches the parser: it is escaped and wrapped, which costs a hundredth of a parse.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from html import escape, unescape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markdown_it import MarkdownIt

# Anything that CommonMark could read as markup; a false alarm only costs time. A line that begins with a letter or a
# mark's placeholder merely goes on with its paragraph.
_MARKUP = re.compile(r"[\\`*_\[\]<>&~\r\t]|^(?:[-+#=]|\d{1,9}[.)])|  | \n|\n(?![^\W\d_]|\ue000)")
_SAFE_LINK = re.compile(r"(?:https?://[^/]|mailto:|[^:/?#\\]*(?:[/?#]|$))", re.IGNORECASE)
_TAG = re.compile(r"<[^>]*>")
_SPACE = re.compile(r" *[\t\n\r][ \t\n\r]*|  +")  # more than one space, or another than a space
_BLOCK_END = re.compile(r"</(?:p|li|ul|ol|blockquote|pre)>|<br>", re.IGNORECASE)
# Placeholders for marks inside a text: characters of the private use area, taken out of the text beforehand.
_OPEN, _CLOSE = "\ue000", "\ue001"
_HOLE = re.compile(f"{_OPEN}(\\d+){_CLOSE}")


def safe_link(address: str) -> bool:
    """Whether a link may stand: http, https, mailto, or relative to the page (``//host`` is not)."""
    bare = address.strip()
    # A mark is no address; its placeholder comes here as bytes in percent signs.
    hole = _OPEN in bare or "%EE%80%80" in bare.upper()
    return not bare.startswith("//") and not hole and _SAFE_LINK.match(bare) is not None


@cache
def _parser() -> MarkdownIt:
    from markdown_it import MarkdownIt
    from markdown_it.renderer import RendererHTML

    class Renderer(RendererHTML):
        def image(self, tokens, idx, options, env):  # type: ignore[no-untyped-def]
            return escape(self.renderInlineAsText(tokens[idx].children or [], options, env))

    # Headings, rules and indented code would upset the page's own outline or surprise a cook who indents.
    parser = MarkdownIt("commonmark", {"html": False}, renderer_cls=Renderer)
    parser.disable(["heading", "lheading", "hr", "code", "html_block", "html_inline"])
    parser.validateLink = safe_link  # type: ignore[method-assign, assignment]
    return parser


def _clean(text: str) -> str:
    return text.replace(_OPEN, "").replace(_CLOSE, "").replace("\x00", "")


def inline(text: str) -> str:
    """One run of text as HTML, without a paragraph around it."""
    text = _clean(text).strip()
    if not _MARKUP.search(text):
        return escape(text, quote=False)
    return str(_parser().renderInline(text)).strip()


def block(text: str) -> str:
    """Text as HTML paragraphs and lists."""
    return with_marks([text])


def with_marks(parts: Sequence[str | tuple[str, str]]) -> str:
    """Markdown with ready-made pieces in it, as HTML blocks.

    A ``str`` is Markdown; a pair is (HTML, plain text) of a mark. Markup may begin before a mark and end after it;
    inside a tag (a link's title) the mark's plain text stands.
    """
    marks: list[tuple[str, str]] = []
    out: list[str] = []
    for part in parts:
        if isinstance(part, str):
            out.append(_clean(part))
        else:
            out.append(f"{_OPEN}{len(marks)}{_CLOSE}")
            marks.append(part)
    text = "".join(out).strip()
    if not _MARKUP.search(text):  # then no mark is inside a tag either
        text = escape(text, quote=False)
        return f"<p>{_HOLE.sub(lambda m: marks[int(m[1])][0], text)}</p>" if text else ""
    html = str(_parser().render(text)).strip()

    def tag(found: re.Match[str]) -> str:
        return _HOLE.sub(lambda m: escape(marks[int(m[1])][1]), found[0])

    # Inside code, too, only words may stand: spans would print as tags there no less than in an attribute.
    html = _TAG.sub(tag, html)
    return _HOLE.sub(lambda m: marks[int(m[1])][0], html)


def plain(html: str) -> str:
    """The words of a piece of our own HTML, on one line; what only keeps a page's line together is left out."""
    return _SPACE.sub(" ", unescape(_TAG.sub("", _BLOCK_END.sub(" ", html)))).replace("\u00a0/ ", " / ").strip()
