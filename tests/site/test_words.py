"""The catalogue of words: complete, used, changed entry by entry, and the only place where the pages' words stand."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from outside import ROOT

from pipeline.recipe.channel import Channel
from pipeline.site.errors import BadTemplateError
from pipeline.site.sheet import channel_view
from pipeline.site.theme import Theme, shipped_templates, shipped_words
from pipeline.site.words import read_words

SHIPPED = shipped_templates()
TEMPLATES = sorted(SHIPPED.glob("*.j2"))
SCRIPTS = sorted((SHIPPED / "assets").glob("*.js"))
SPOKEN = ("alt", "aria-label", "aria-description", "title", "placeholder", "label", "aria-valuetext")


def own(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "templates" / "words.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, "utf-8")
    return path.parent


def test_a_folder_changes_single_entries(tmp_path: Path) -> None:
    folder = own(tmp_path, "recipe: {ingredients: Zutaten, scale: Waage}\n")
    (folder / "x.html.j2").write_text("{{ say.recipe.ingredients }} {{ say.recipe.method }}", "utf-8")
    assert Theme(folder).render("x.html.j2", {}) == "Zutaten Method"
    assert Theme(folder).digest("home.html.j2") != Theme(None).digest("home.html.j2")


def test_a_folder_changes_single_blocks(tmp_path: Path) -> None:
    folder = own(tmp_path, "lost: {title: Gone}\n")
    (folder / "404.html.j2").write_text(
        '{% extends "shipped/404.html.j2" %}{% block masthead %}<p>My own head</p>{% endblock %}', "utf-8"
    )
    channel = channel_view(Channel(name="The Tin Whisk"))
    page = dict.fromkeys(("description", "up", "canonical", "image", "image_alt"), "")
    page |= {"title": "Gone", "kind": "lost", "index": False}
    told = Theme(folder).render("404.html.j2", {"channel": channel, "page": page})
    assert "My own head" in told and shipped_words()["lost.text"] in told
    assert Theme(folder).digest("404.html.j2") != Theme(None).digest("404.html.j2")


def test_a_word_cannot_smuggle_in_markup(tmp_path: Path) -> None:
    folder = own(tmp_path, "recipe: {ingredients: '<script>x</script>'}\n")
    (folder / "x.html.j2").write_text("{{ say.recipe.ingredients }}", "utf-8")
    assert "<script>" not in Theme(folder).render("x.html.j2", {})


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("recipe: {ingrediants: X}", "words.yaml:1: there is no entry `recipe.ingrediants`; `recipe.ingredients`?"),
        ("# mine\nrecipe:\n  print: X\n  metod: Y\n", "words.yaml:4: there is no entry `recipe.metod`"),
        ("recipe:\n  print: X\nunits:\n  cup: {a: b}\n", "words.yaml:4: `units.cup` is no text"),
        ("recipe: {measured: In cups.}", "lost its hole `{cups}`"),
        ("measure: {heat_gas: Gasstufe}", "lost its hole `{n}`"),
        ("recipe: {ingredients: '{cups}'}", "has no hole `{cups}`"),
        ("recipe: {ingredients: {a: b}}", "`recipe.ingredients` is no text"),
        ("recipe: X", "`recipe` is no section"),
        ("- a", "no list of sections"),
        ("recipe: {a: [}", "words.yaml:1"),
        ("language: {plural: 'n =! 1'}", "`language.plural`"),
    ],
)
def test_a_wrong_entry_is_refused_by_name(text: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(BadTemplateError) as caught:
        read_words(SHIPPED / "words.yaml", own(tmp_path, text) / "words.yaml")
    assert told in str(caught.value)


def asked() -> dict[str, set[str]]:
    """Every entry that a template, a script or the program asks for, and where."""
    found: dict[str, set[str]] = {}
    sources = [
        *TEMPLATES,
        *SCRIPTS,
        *(ROOT / "pipeline" / "site").glob("*.py"),
        *(ROOT / "pipeline").glob("preview*/*.py"),
    ]
    for path in sources:
        text = path.read_text("utf-8")
        keys = re.findall(r"\bsay\.([a-z_]+\.[a-z_0-9]+)", text)
        keys += re.findall(r"""\b(?:say|words|_say)\(\s*f?["']([a-z_]+\.[a-z_0-9]+)["']""", text)
        for key in keys:
            found.setdefault(key, set()).add(path.name)
    return found


def test_what_is_asked_for_is_there() -> None:
    entries = shipped_words().entries
    missing = {key: where for key, where in asked().items() if key not in entries}
    assert len(asked()) > 80
    assert missing == {}


# Entries that are asked for by a name put together: whole sections, and some of others.
BY_NAME = ("units", "measure", "cups", "caution", "allergen", "sets_off", "nutrition", "language")
SOME = {
    "recipe": ("prep", "cook", "rest", "total", "optional", "divided", "to_taste"),
    "paper": ("sheet", "large", "card", "a6"),
    "found": ("kinds", "cuisines", "keywords"),
}


def test_what_is_there_is_asked_for() -> None:
    """An entry that nobody says would be translated for nothing."""
    used = set(asked())
    for path in [*TEMPLATES, *SCRIPTS, *(ROOT / "pipeline").rglob("*.py")]:
        used.update(re.findall(r"""["']([a-z_]+\.[a-z_0-9]+)["']""", path.read_text("utf-8")))
    for key in shipped_words().entries:
        section, _, name = key.partition(".")
        assert section in BY_NAME or name in SOME.get(section, ()) or key in used, key


class Visible(HTMLParser):
    """What a reader sees or hears of a template, once all that Jinja fills in is gone."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.hidden += tag in ("script", "style")
        self.words += [value for name, value in attrs if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        self.hidden -= tag in ("script", "style")

    def handle_data(self, text: str) -> None:
        if not self.hidden:
            self.words.append(text)


@pytest.mark.parametrize(
    "path", [p for p in TEMPLATES if ".html" in p.name or p.name == "post.txt.j2"], ids=lambda p: p.name
)
def test_no_word_stands_in_a_template(path: Path) -> None:
    text = re.sub(r"\{#.*?#\}|\{%.*?%\}", "", path.read_text("utf-8"), flags=re.DOTALL)
    # What is filled in goes, save for texts typed into the expression itself; keys and paths are no words.
    literals = [
        word
        for filled in re.findall(r"\{\{(.*?)\}\}", re.sub(r"<[^>]*>", "", text, flags=re.DOTALL))
        for word in re.findall(r"""["']([^"']*)["']""", filled)
        if re.search(r"[A-Z]|[a-z] [a-z]", word) and not word.startswith("(min-width")
    ]
    seen = Visible()
    seen.feed(re.sub(r"\{\{.*?\}\}", "", text, flags=re.DOTALL))
    assert [w.strip() for w in seen.words if re.search(r"[^\W\d_]", w)] + literals == []


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.name)
def test_no_word_stands_in_a_script(path: Path) -> None:
    """What a script shows comes from the catalogue: no text with letters is assigned or set as a label."""
    text = re.sub(r"//.*", "", path.read_text("utf-8"))
    shown = re.findall(
        r"""(?:textContent|innerText|document\.title|ariaLabel)\s*=\s*["'`]([^"'`$]*[^\W\d_][^"'`]*)["'`]""", text
    )
    shown += re.findall(
        r"""setAttribute\(\s*["']aria-(?:label|valuetext|description)["'],\s*["'`]([^$][^"'`]*)""", text
    )
    assert shown == []
