"""The built pages: valid for the Nu checker, links that lead somewhere, a feed that is read, legible colours."""

from __future__ import annotations

import gzip
import json
import re
import shutil
import subprocess
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import feedparser
import pytest
from outside import NODE, need

from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.span import Text
from pipeline.site.build import Report, build
from pipeline.site.sheet import locale_of

HOSTILE = """\
title: '"><script>alert(1)</script> & <b>bold</b>'
slug: hostile
published: 2026-11-01
summary: '<img src=x onerror=alert(2)> **fine** [x](javascript:alert(3))'
yield: '4 "big" <loaves>'
category: 'A|B & <C>'
keywords: ['"quoted"', '<i>']
equipment: ['<script>alert(4)</script>']
components:
  'wet': ['650 g water <script>alert(5)</script>, "cold"']
  'dry': ['1 kg flour &amp; <b>more</b>']
steps:
  - component: wet
    title: '<h1>x</h1>'
    at: 0:01
    text: "Mix <script>alert(6)</script> **{water}** and [a]({flour} 'x')."
  - {component: dry, text: "`{flour}` \\u2028 & ]]> --> <!-- {10 min}"}
notes: ['<iframe src=//e.example></iframe>']
substitutions: {water: '<style>*{}</style>'}
video: {address: 'https://video.example/?a=1&b=2', length: 1:00}
"""
MINIMAL = "title: Toast\nslug: toast\npublished: 2026-01-02\ningredients: [bread]\nsteps: [Toast it.]\n"


@pytest.fixture
def sampler(
    cook: Callable[..., Recipe], picture: Callable[..., Path], channel: Channel, table: Table, tmp_path: Path
) -> Report:
    """A small site of extremes: hostile text, the least recipe, a film of her own, no address."""
    picture(tmp_path / "content" / "recipes" / "film" / "p.jpg")
    (tmp_path / "content" / "recipes" / "film" / "film.mp4").write_bytes(b"x")
    (tmp_path / "content" / "recipes" / "film" / "c.srt").write_text("1\n00:00:01,000 --> 00:00:03,000\nHello\n")
    film = MINIMAL.replace("toast", "film").replace("[Toast it.]", "[{text: Toast it., at: 0:10}]")
    film += "video: {file: film.mp4, captions: c.srt, length: 2:00}\nphotos: {file: p.jpg, alt: 'A \"grey\" <thing>'}\n"
    hostile = cook(HOSTILE, "hostile")
    assert hostile.video is not None and hostile.video.address is not None
    typed = hostile.video.address  # worse than the reader lets in
    address = Text.at(typed.replace("=1", '="><script>'), typed.span, typed.places, [0])
    hostile = replace(hostile, video=replace(hostile.video, address=address))
    recipes = [hostile, cook(MINIMAL, "toast"), cook(film, "film")]
    bare = replace(channel, address="", name='The <Tin> & "Whisk"', tagline="", footer="<script>alert(7)</script>")
    return build(recipes, bare, table, tmp_path / "site_out")


# Read from a file, every page is of an origin of its own to the checker, so that 'self' lets nothing in; that the
# policy lets our own files in is asked of a real browser (test_browser.py). It also takes our block of data for a
# script; HTML's "prepare the script element" leaves data blocks before the policy is asked, and
# test_no_script_but_ours holds that there is no inline script.
POLICY = re.compile(r"(Resource|Inline script) violates Content Security Policy \(meta tag\): (.* )?blocked by")


def test_every_page_is_valid(demo: Report, sampler: Report, tmp_path: Path) -> None:
    """The Nu HTML checker (npm vnu-jar) has nothing to say, not even a warning."""
    need("java", bool(shutil.which("java")))
    jar = NODE / "vnu-jar" / "build" / "dist" / "vnu.jar"
    need("vnu-jar (npm install in tests/)", jar.is_file())
    bad = tmp_path / "bad.html"
    bad.write_text("<!doctype html><html lang=en><title>x</title><p><div></p>")
    pages = [str(p) for out in (demo.out, sampler.out) for p in sorted(out.rglob("*.html"))]
    command = ["java", "-jar", str(jar), "--format", "json", "--exit-zero-always"]
    run = subprocess.run([*command, *pages, str(bad)], capture_output=True, text=True)
    messages = json.loads(run.stderr)["messages"]
    judged = [m for m in messages if m["url"].endswith("bad.html")]
    assert judged, "the judge found nothing in a bad page"
    left = [m for m in messages if m not in judged and not POLICY.match(m["message"])]
    assert [f"{m['url']}:{m.get('lastLine')}: {m['message']}" for m in left] == []


def test_styles_are_valid(demo: Report) -> None:
    need("java", bool(shutil.which("java")))
    jar = NODE / "vnu-jar" / "build" / "dist" / "vnu.jar"
    need("vnu-jar (npm install in tests/)", jar.is_file())
    sheets = [str(p) for p in sorted((demo.out / "assets").glob("*.css"))]
    assert sheets
    run = subprocess.run(
        ["java", "-jar", str(jar), "--css", "--errors-only", "--format", "gnu", *sheets], capture_output=True, text=True
    )
    # CSS that the checker's parser is too old for (from memory): text-wrap, text-size-adjust, paged media sizes.
    left = [line for line in run.stderr.splitlines() if not re.search(r"text-wrap|text-size-adjust|size|inset", line)]
    assert left == []


class Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: set[str] = set()
        self.scripts: list[dict[str, str | None]] = []
        self.inline: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        for name in ("href", "src"):
            if told.get(name) and told.get("rel") not in ("canonical",):
                self.links.append(told[name] or "")
        for part in (told.get("srcset") or "").split(","):
            if part.strip():
                self.links.append(part.split()[0])
        if told.get("id"):
            self.ids.add(told["id"] or "")
        if tag == "script":
            self.scripts.append(told)
        self.inline += [name for name, _ in attrs if name == "style" or name.startswith("on")]


def parse(path: Path) -> Links:
    links = Links()
    links.feed(path.read_text("utf-8"))
    return links


@pytest.mark.parametrize("which", ["demo", "sampler"])
def test_every_link_leads_somewhere(which: str, request: pytest.FixtureRequest) -> None:
    """Relative links reach a file (and an id in it), so the site works from file:// as it stands."""
    out: Path = request.getfixturevalue(which).out
    parsed = {path: parse(path) for path in out.rglob("*.html")}
    for path, links in parsed.items():
        for link in links.links:
            parts = urlsplit(link)
            if parts.scheme in ("http", "https", "mailto"):
                continue
            if parts.path.startswith("/"):
                assert path.name == "404.html", f"{path}: {link}"
                target = out / unquote(parts.path).lstrip("/")
            else:
                target = path if not parts.path else (path.parent / unquote(parts.path)).resolve()
            assert target.exists(), f"{path.name}: {link}"
            if parts.fragment and target in parsed and not parts.fragment.startswith("t="):
                assert unquote(parts.fragment) in parsed[target].ids, f"{path.name}: {link}"


@pytest.mark.parametrize("which", ["demo", "sampler"])
def test_no_script_but_ours_and_no_request_to_others(which: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(which).out
    for path in out.rglob("*.html"):
        links = parse(path)
        assert links.inline == [], path
        for script in links.scripts:
            if "src" in script:
                assert re.fullmatch(r"(\.\./|/)?assets/\w+\.js", script["src"] or ""), path
            else:
                assert script.get("type") in ("application/ld+json", "application/json"), path
        page = path.read_text("utf-8")
        assert "default-src 'none'" in page and "unsafe" not in page
        loaded = re.findall(
            r'(?:src|srcset)="([^"]*)"|<link[^>]*rel="(?:stylesheet|icon|preload)"[^>]*href="([^"]*)"', page
        )
        assert not [pair for pair in loaded if re.match(r"(https?:)?//", "".join(pair))], path


def test_hostile_words_stay_words(sampler: Report) -> None:
    page = (sampler.out / "recipes" / "hostile.html").read_text("utf-8")
    assert page.count("<script") == 2 + page.count('<script src="../assets/')  # two blocks of data, and our own files
    assert len(re.findall(r"<script[^>]*>[^<]", page)) == 2
    assert not re.search(r"<(?:iframe|img src=x|style|b>bold|i>|h1>x)", page.replace("<b>650", ""))
    assert 'href="javascript:' not in page
    feed = feedparser.parse((sampler.out / "feed.xml").read_bytes())
    assert feed.bozo == 0
    assert any("<script>" in entry.title or "alert(1)" in entry.title for entry in feed.entries)


@pytest.mark.parametrize(
    ("language", "locale"),
    [
        ("en-US", "en_US"), ("de-at", "de_AT"), ("zh-Hant-TW", "zh_TW"), ("pt-BR-abl1943", "pt_BR"),
        ("en", ""), ("es-419", ""), ("sr-Latn", ""), ("english", ""), ("en_US", ""), ("de-1996", ""),
    ],
)  # fmt: skip
def test_the_locale_has_a_country_or_is_not_told(language: str, locale: str) -> None:
    """Open Graph: og:locale is ``language_TERRITORY``. Tags after RFC 5646, 2.1 and its appendix A."""
    assert locale_of(language) == locale


def test_a_page_tells_its_language(demo: Report, sampler: Report) -> None:
    page = (demo.out / "index.html").read_text("utf-8")
    assert '<html lang="en-US">' in page and '<meta property="og:locale" content="en_US">' in page
    page = (sampler.out / "index.html").read_text("utf-8")
    assert '<html lang="en">' in page and "og:locale" not in page


def test_the_feed_is_read(demo: Report) -> None:
    """feedparser finds no fault; ids are addresses, dates those of the sources (RFC 4287)."""
    feed = feedparser.parse((demo.out / "feed.xml").read_bytes())
    assert feed.bozo == 0 and feed.version == "atom10"
    assert feed.feed.title == "The Tin Whisk"
    assert len(feed.entries) == demo.recipes
    assert feed.feed.updated == max(entry.updated for entry in feed.entries)
    for entry in feed.entries:
        assert entry.id == entry.link and entry.link.startswith("https://the-tin-whisk.example/recipes/")
        assert entry.published.endswith("T00:00:00Z")
        assert " g" in entry.content[0].value and "<ol>" in entry.content[0].value


FED = """\
title: Stew
slug: stew
published: 2026-03-01
summary: As [last year's](soup.html).
yield: 4 bowls
times: {total: 2 h}
equipment: [one pot]
ingredients: [1 kg beans, 10 g salt]
steps:
  - {title: Soak, text: "Soak {beans} as in [the soup](soup.html#step-1) or [below](#step-2)."}
  - "Boil for {1 h}; see [elsewhere](https://other.example/x) or [the top](../index.html)."
notes: [Keeps three days.]
substitutions: {salt: "Use {beans: 10 g} and [soup](./soup.html)."}
photos: {file: p.jpg, alt: A "pot".}
video: {address: "https://video.example/stew", length: 1:00}
"""


@pytest.mark.parametrize("root", ["https://x.example/kitchen", ""])
def test_the_feed_has_the_whole_text_and_whole_addresses(
    root: str, cook: Callable[..., Recipe], picture: Callable[..., Path], channel: Channel, table: Table, tmp_path: Path
) -> None:
    """RFC 4287, 4.1.3: content. Without an address of the site its links start from the feed itself."""
    picture(tmp_path / "content" / "recipes" / "stew" / "p.jpg")
    recipes = [cook(FED, "stew"), cook(MINIMAL.replace("Toast", "Soup").replace("toast", "soup"), "soup")]
    out = build(recipes, replace(channel, address=root), table, tmp_path / "site_out").out
    feed = feedparser.parse((out / "feed.xml").read_bytes(), sanitize_html=False, resolve_relative_uris=False)
    assert feed.bozo == 0 and [entry.title for entry in feed.entries] == ["Stew", "Soup"]
    text = feed.entries[0].content[0].value
    base = f"{root}/" if root else ""
    assert re.findall(r'href="([^"]*)"', text) == [
        f"{base}recipes/soup.html",
        "https://video.example/stew",
        f"{base}recipes/soup.html#step-1",
        f"{base}recipes/stew.html#step-2",
        "https://other.example/x",
        f"{base}index.html",
        f"{base}recipes/soup.html",
    ]
    (image,) = re.findall(r'src="([^"]*)"', text)
    assert image.startswith(f"{base}photos/") and (out / image.removeprefix(base)).is_file()
    for words in ("4 bowls", "2 h", "1 kg", "10 g", "Soak", "Boil for", "one pot", "Keeps three days", "in place of"):
        assert words.lower() in text.lower(), words
    assert "data-" not in text and 'alt="A &#34;pot&#34;."' in text
    assert feed.entries[0].updated == "2026-03-01T00:00:00Z" == feed.feed.updated


def test_a_feed_without_an_address_keeps_its_ids(sampler: Report) -> None:
    feed = feedparser.parse((sampler.out / "feed.xml").read_bytes())
    assert feed.bozo == 0
    assert all(entry.id.startswith("urn:uuid:") for entry in feed.entries)
    assert len({entry.id for entry in feed.entries}) == 3
    assert not (sampler.out / "sitemap.xml").exists()  # whole addresses only, so none without one
    assert 'rel="canonical"' not in (sampler.out / "index.html").read_text("utf-8")


def test_the_sitemap_names_every_page(demo: Report) -> None:
    """sitemaps.org protocol 0.9."""
    tree = ElementTree.parse(demo.out / "sitemap.xml")
    space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
    assert tree.getroot().tag == f"{space}urlset"
    named = {loc.text for loc in tree.iter(f"{space}loc")}
    pages = {p.relative_to(demo.out).as_posix() for p in demo.out.rglob("*.html")} - {"404.html"}
    pages = {p for p in pages if not p.startswith("print/")}  # another form of a page that is named
    assert named == {f"https://the-tin-whisk.example/{'' if p == 'index.html' else p}" for p in pages}
    assert (demo.out / "robots.txt").read_text().endswith("Sitemap: https://the-tin-whisk.example/sitemap.xml\n")


def test_the_sitemap_names_the_pictures_of_a_recipe(demo: Report) -> None:
    """The image extension of sitemaps: every picture named there is a file of the site."""
    tree = ElementTree.parse(demo.out / "sitemap.xml")
    images = [e.text or "" for e in tree.iter("{http://www.google.com/schemas/sitemap-image/1.1}loc")]
    assert len(images) == 7  # as many as the published recipes have
    for address in images:
        assert (demo.out / address.removeprefix("https://the-tin-whisk.example/")).is_file()


def test_a_first_page_is_light(demo: Report) -> None:
    """Under 100 kB without photos: the page, and the styles, scripts and face that it loads, as hosts send them (text
    packed by gzip)."""
    face = sum(p.stat().st_size for p in (demo.out / "assets").rglob("*.woff2"))
    for page in demo.out.rglob("*.html"):
        own = [link for link in parse(page).links if re.search(r"assets/[^/]+\.(?:css|js|svg)$", link)]
        if page.name == "404.html":
            continue
        texts = [page, *(page.parent / link for link in dict.fromkeys(own))]
        assert sum(len(gzip.compress(text.read_bytes(), 6)) for text in texts) + face < 100_000, page


# -- colours -------------------------------------------------------------------------------------------------------


def luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def schemes() -> list[tuple[str, dict[str, str]]]:
    from pipeline.site.theme import shipped_templates

    css = (shipped_templates() / "assets" / "tokens.css").read_text("utf-8")
    light, dark = css.split("@media (prefers-color-scheme: dark)")
    read = [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", part)) for part in (light, dark)]
    assert len(read[0]) >= 14 and set(read[0]) == set(read[1]), "both schemes name the same colours"
    return [("light", read[0]), ("dark", read[1])]


def test_the_sum_itself() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: 21:1 at most
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # widely published, from memory


@pytest.mark.parametrize(("name", "colours"), schemes())
def test_text_holds_its_contrast(name: str, colours: dict[str, str]) -> None:
    grounds = [colours[g] for g in ("counter", "card", "band")]
    inks = [k for k in colours if k in ("ink", "soft", "rim") or k.startswith("tone-")]
    for ink in inks:
        for ground in grounds:
            assert contrast(colours[ink], ground) >= 4.5, (name, ink, ground)
    assert contrast(colours["rim-ink"], colours["rim"]) >= 4.5
    assert all(contrast(colours["focus"], ground) >= 3 for ground in grounds)
