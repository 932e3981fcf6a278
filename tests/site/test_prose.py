"""Markdown: what is typed and what the page holds; whatever is typed, nothing but our own few tags comes out."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from pipeline.site.prose import block, inline, plain, safe_link, with_marks

CASES = yaml.safe_load((Path(__file__).parent / "cases" / "prose.yaml").read_text("utf-8"))
TAGS = {"p", "em", "strong", "a", "code", "pre", "ul", "ol", "li", "blockquote", "br", "b"}
ATTRIBUTES = {"href", "title", "class", "start"}


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_cases(case: dict[str, str]) -> None:
    assert block(case["typed"]) == case["html"]


class Reader(HTMLParser):
    """Collects what is open and complains about anything that we never write."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in TAGS, tag
        for name, value in attrs:
            assert name in ATTRIBUTES, name
            if name == "href":
                assert safe_link(value or ""), value
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in ("br",):
            assert self.open.pop() == tag

    def handle_comment(self, data: str) -> None:
        raise AssertionError("a comment came out")

    def handle_decl(self, decl: str) -> None:
        raise AssertionError("a declaration came out")


def read(html: str) -> None:
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == []


PIECES = [*"ab \n*_`[]()<>!&#-\"'\\/:;=x1.\ue000\ue001", "javascript:", "<script>", "https://a.example", "&#106;"]
MARKUP = st.lists(st.sampled_from(PIECES), max_size=40).map("".join)


@given(MARKUP | st.text(max_size=60))
def test_only_our_own_tags_come_out(typed: str) -> None:
    read(block(typed))
    read(inline(typed))


@given(MARKUP, MARKUP)
def test_marks_stay_whole_wherever_they_stand(before: str, after: str) -> None:
    html = with_marks([before, ("<b>1 &lt; 2</b>", '1 < 2"'), after])
    read(html)


@pytest.mark.parametrize(
    ("before", "after", "html"),
    [
        ("Stir ", " in.", "<p>Stir <b>M</b> in.</p>"),
        ("**Stir ", " in**.", "<p><strong>Stir <b>M</b> in</strong>.</p>"),
        ("[x](", " 'y')", "<p>[x](<b>M</b> 'y')</p>"),
        ("[x](https://a.example 'of ", "')", '<p><a href="https://a.example" title="of m">x</a></p>'),
    ],
)
def test_marks_inside_markup(before: str, after: str, html: str) -> None:
    assert with_marks([before, ("<b>M</b>", "m"), after]) == html


def test_plain_words_of_html() -> None:
    assert plain("<p>a &amp; <b>b</b></p>\n<p>c<br>d</p>") == "a & b c d"
