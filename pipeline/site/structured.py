"""The recipe as schema.org data (JSON-LD), for search engines and readers of all kinds.

Types and fields: schema.org Recipe, HowToSection, HowToStep, HowToSupply, HowToTool, VideoObject, Clip. Both
measures stand in every ingredient line, and the film's moments are its clips.
"""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

from pipeline.film.chapters import chapters_of
from pipeline.measure.duration import iso_duration
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe, Yield
from pipeline.site.moments import at_second
from pipeline.site.view import PictureView, RecipeView, StepView
from pipeline.site.words import Words

# Characters that could end the script element or a line of script; JSON strings may carry them as escapes.
_ESCAPES = tuple((c, f"\\u{ord(c):04x}") for c in "<>&\u2028\u2029")


def script_json(data: object) -> Markup:
    """JSON that is safe inside a ``<script>`` element: nothing in it can close the element or open a comment."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    text = text.encode("utf-8", "replace").decode("utf-8")
    for character, escape in _ESCAPES:  # five searches take a tenth of one str.translate
        text = text.replace(character, escape)
    return Markup(text)


def _images(pictures: tuple[PictureView, ...], base: str) -> list[str]:
    """The first picture's cuts (16 by 9, 4 by 3, square), then every picture whole."""
    names = [name for p in pictures[:1] for name in p.picture.crops]
    return [f"{base}photos/{name}" for name in dict.fromkeys([*names, *(p.large for p in pictures)])]


def _step(step: StepView, page: str, base: str) -> dict[str, Any]:
    data: dict[str, Any] = {"@type": "HowToStep", "text": step.plain, "url": f"{page}#step-{step.number}"}
    if step.title:
        data["name"] = step.title
    if step.photo:
        data["image"] = f"{base}photos/{step.photo.large}"
    return data


def _instructions(view: RecipeView, page: str, base: str) -> list[dict[str, Any]]:
    """The steps; where there are several components, in a section for each stretch of one of them."""
    if len(view.components) < 2:
        return [_step(step, page, base) for step in view.steps]
    sections: list[dict[str, Any]] = []
    for step in view.steps:
        if step.starts:
            sections.append({"@type": "HowToSection", "name": step.label, "itemListElement": []})
        sections[-1]["itemListElement"].append(_step(step, page, base))
    return sections


def _made(made: Yield) -> str | dict[str, Any]:
    """What is made, as a number ("4"), or as a QuantitativeValue where it is a range or a fraction; "" for nothing."""
    low, high = (int(n) if n.denominator == 1 else round(float(n), 3) for n in (made.low, made.high))
    if low <= 0:
        return ""
    if low == high and isinstance(low, int):
        return str(low)
    data: dict[str, Any] = {"@type": "QuantitativeValue"}
    data |= {"value": low} if low == high else {"minValue": low, "maxValue": high}
    return {**data, "unitText": made.what} if made.what else data


# The source's words and schema.org's NutritionInformation.
_NUTRITION = {
    "serving": "servingSize",
    "calories": "calories",
    "fat": "fatContent",
    "saturates": "saturatedFatContent",
    "carbohydrate": "carbohydrateContent",
    "sugar": "sugarContent",
    "fiber": "fiberContent",
    "protein": "proteinContent",
    "sodium": "sodiumContent",
    "cholesterol": "cholesterolContent",
}


def _film(recipe: Recipe, view: RecipeView, channel: Channel, base: str, words: Words) -> dict[str, Any] | None:
    film = view.film
    if film is None:
        return None
    where = film.href or f"{base or '../'}{film.source}"
    data: dict[str, Any] = {
        "@type": "VideoObject",
        "name": film.title,
        "description": view.card.summary or film.title,
        "contentUrl" if film.source else "url": where,
    }
    pictures = view.photos
    if pictures:
        data["thumbnailUrl"] = _images(pictures[:1], base or "../")
    if recipe.published:
        data["uploadDate"] = recipe.published.isoformat()
    length = recipe.video.length if recipe.video else None
    if length is not None:
        data["duration"] = iso_duration(length // 1000)
    clips: list[dict[str, Any]] = []
    for chapter in chapters_of(recipe, channel.chapters, words("post.intro")):
        second = chapter.at // 1000
        if clips and clips[-1]["startOffset"] >= second:  # start times are unique and ascend
            continue
        if clips:
            clips[-1]["endOffset"] = second
        clips.append({"@type": "Clip", "name": chapter.title, "startOffset": second, "url": at_second(where, second)})
    if clips and length is not None and length // 1000 > clips[-1]["startOffset"]:
        clips[-1]["endOffset"] = length // 1000
    if clips:
        data["hasPart"] = clips
    return data


def recipe_data(recipe: Recipe, view: RecipeView, channel: Channel, words: Words) -> RecipeView:
    """The view with its ``data`` filled in. Addresses are whole where the channel has one, else relative."""
    base = f"{channel.address}/" if channel.address else ""
    page = f"{base}recipes/{view.card.slug}.html" if base else ""
    person = "Person" if channel.author and channel.author != channel.name else "Organization"
    data: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": view.card.title,
        "inLanguage": channel.language,
        "author": {"@type": person, "name": channel.author or channel.name},
    }
    if page:
        data["url"] = page
        data["mainEntityOfPage"] = page
    if view.card.summary:
        data["description"] = view.card.summary
    # Relative to the page, which stands one folder down.
    images = _images((*view.photos, *(s.photo for s in view.steps if s.photo)), base or "../")
    if images:
        data["image"] = images
    if view.card.date_iso:
        data["datePublished"] = view.card.date_iso
    times = {"prep": "prepTime", "cook": "cookTime", "total": "totalTime"}
    for name, duration in recipe.times.items():
        if name in times:
            data[times[name]] = iso_duration(duration.high)
    if recipe.yield_:
        data["recipeYield"] = [y for y in (_made(recipe.yield_), view.yields) if y]
    for key, values in (("recipeCategory", recipe.category), ("recipeCuisine", recipe.cuisine)):
        if values:
            data[key] = list(values)
    if recipe.keywords:
        data["keywords"] = ", ".join(recipe.keywords)
    if recipe.equipment:
        data["tool"] = [{"@type": "HowToTool", "name": name} for name in recipe.equipment]
    data["recipeIngredient"] = [row.plain for part in view.components for row in part.rows]
    data["recipeInstructions"] = _instructions(view, page, base or "../")
    if recipe.nutrition:
        told = {_NUTRITION[name]: value for name, value in recipe.nutrition.items()}
        data["nutrition"] = {"@type": "NutritionInformation", **told}
    film = _film(recipe, view, channel, base, words)
    if film:
        data["video"] = film
    return replace(view, data=script_json(data))
