"""The fields of a recipe and of the channel's settings: one table.

The reader walks it, the near names for an unknown field come from it, and the JSON Schema is made from it. To add a
field, add a line here, a place for it in ``model.py`` or ``channel.py``, and hand it over in the reader. A library of
typed models is left out on purpose: importing one costs more than a whole check, and none knows where a value stood.

Each ``example`` is YAML as it would stand after ``name:``; a test reads them all.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from pipeline.measure.units import STANDARDS

Kind = Literal[
    "text",  # any text
    "texts",  # a text, or a list of them
    "words",  # a list, or one text with commas between
    "date",  # 2026-11-01
    "flag",  # yes, no, true, false
    "moment",  # 1:05, 1:02:03, 65, 65 s, 0:42.5: a place in the film, or its length
    "time",  # 30 min, 1 h 15 min, overnight
    "yield",  # 4 loaves, serves 6
    "language",  # en, de-AT
    "slug",  # lower-case letters, digits, hyphens
    "file",  # a file beside the recipe
    "address",  # http:// or https://
    "number",  # a whole number
    "choice",  # one of `choices`
    "record",  # a mapping with the fields `of`
    "records",  # a list of such mappings, or one of them
    "lines",  # ingredient lines
    "components",
    "steps",
    "marked",  # a step's text, with marks in braces
    "substitutions",
]


class Field(NamedTuple):
    """One field. ``also`` are words, with commas between, that people type for it: they are not read, but they
    are understood."""

    name: str
    kind: Kind
    doc: str
    example: str
    required: bool = False
    also: str = ""
    choices: tuple[str, ...] = ()
    of: tuple[Field, ...] = ()
    short: str = ""  # the field of a record that a plain text stands for

    @property
    def synonyms(self) -> list[str]:
        return self.also.split(", ") if self.also else []


TIMES = (
    Field("prep", "time", "Time at the counter.", "20 min", also="preparation, active, hands-on"),
    Field("cook", "time", "Time in the oven or on the stove.", "1 h 15 min", also="bake, cooking, baking"),
    Field(
        "rest",
        "time",
        "Rising, chilling, cooling: time when nobody works.",
        "overnight",
        also="rise, chill, wait, inactive",
    ),
    Field("total", "time", "From start to table.", "2 1/2 hours", also="all"),
)

INGREDIENT = (
    Field("name", "text", "What it is.", "water", required=True, also="ingredient, item"),
    Field(
        "amount",
        "text",
        "How much, in one measure or in both.",
        "650 g or 2 3/4 cups",
        also="quantity, amounts, weight",
    ),
    Field("size", "text", "The size of a counted thing.", "large"),
    Field("note", "text", "How it is prepared.", "room temperature", also="notes, prep"),
    Field("optional", "flag", "It may be left out.", "yes"),
    Field("divided", "flag", "It is used in more than one place.", "yes"),
)

COMPONENT = (
    Field("title", "text", "What the part is called on the page.", "For the dough", also="name"),
    Field(
        "ingredients",
        "lines",
        "Its ingredients, one line each.",
        "\n  - 650 g or 2 3/4 cups water\n  - 12 g (2 tsp) salt",
    ),
)

PHOTO = (
    Field(
        "file",
        "file",
        "The picture's file, beside the recipe.",
        "loaf.jpg",
        required=True,
        also="path, src, image, name",
    ),
    Field(
        "alt",
        "text",
        "What the picture shows, for those who cannot see it.",
        "A round loaf on a board.",
        also="description, alt text",
    ),
    Field("caption", "text", "What stands under it.", "Best on the day.", also="title"),
)

STEP = (
    Field("component", "text", "The part that the step belongs to.", "dough", also="part, for, of"),
    Field("title", "text", "A few words; the chapter in the film is called so.", "Mix the dough", also="name, chapter"),
    Field(
        "text",
        "marked",
        "What to do. {water} prints an ingredient in both measures, {water: 1 cup} a part of it, {water: rest} what is"
        " left; {450 F or 230 C} is a heat, {30 min} a time, {sauce} a component.",
        '"Mix {water} and {bread flour}, then leave it for {30 min}."',
        required=True,
        also="step, instruction, description, method, do",
    ),
    Field("at", "moment", "Where in the film it begins.", "1:05", also="time, moment, start, timestamp"),
    Field(
        "photo",
        "record",
        "A picture of it.",
        "{file: fold.jpg, alt: Hands folding dough.}",
        also="photos, image, picture",
        of=PHOTO,
        short="file",
    ),
)

VIDEO = (
    Field("file", "file", "The film's file.", "film.mp4", also="path"),
    Field("address", "address", "Where the film can be seen.", "https://video.example/loaf", also="url, link, href"),
    Field("length", "moment", "How long it is.", "12:34", also="duration, runtime"),
    Field(
        "captions",
        "file",
        "The captions' file, beside the recipe.",
        "captions.vtt",
        also="subtitles, transcript, caption",
    ),
    Field("title", "text", "The film's title, where it is not the recipe's.", "Bread while you sleep", also="name"),
)

SUBSTITUTION = (
    Field("ingredient", "text", "What is replaced.", "tahini", required=True, also="instead of, for, name"),
    Field("text", "text", "What may stand in.", "Plain yogurt.", required=True, also="use, with, substitute"),
)

ACCEPT = (
    Field(
        "finding",
        "text",
        "The check's name, as `levelcup check` prints it.",
        "pair-disagrees",
        required=True,
        also="check, rule, id",
    ),
    Field("where", "text", "Words of the line it speaks of.", "bread flour", also="line, at, text"),
    Field(
        "reason",
        "text",
        "Why it is right as it stands.",
        "The starter is stirred down first.",
        required=True,
        also="why, because",
    ),
)

NUTRITION = (
    Field("serving", "text", "What the figures are for.", "1 slice (90 g)", also="serving size, per, portion"),
    Field("calories", "text", "Energy.", "240 kcal", also="energy, kcal"),
    Field("fat", "text", "Fat.", "9 g"),
    Field("saturates", "text", "Saturated fat.", "1.5 g", also="saturated fat, saturated"),
    Field("carbohydrate", "text", "Carbohydrate.", "33 g", also="carbs, carbohydrates"),
    Field("sugar", "text", "Sugars.", "2 g", also="sugars"),
    Field("fiber", "text", "Dietary fiber.", "2 g", also="fibre"),
    Field("protein", "text", "Protein.", "6 g"),
    Field("sodium", "text", "Sodium.", "380 mg", also="salt"),
    Field("cholesterol", "text", "Cholesterol.", "0 mg"),
)

RECIPE = (
    Field("title", "text", "The recipe's name.", "Overnight Flatbread", required=True, also="name, recipe"),
    Field(
        "slug",
        "slug",
        "The page's name in its address; without it, the folder's name.",
        "overnight-flatbread",
        also="id, permalink",
    ),
    Field(
        "summary",
        "text",
        "One or two sentences about it.",
        "A soft bread that sleeps in the fridge.",
        also="description, intro, about, headnote",
    ),
    Field("published", "date", "The day it goes out.", "2026-11-01", also="date, publish, publication"),
    Field("draft", "flag", "`yes` keeps it off the site.", "yes"),
    Field("yield", "yield", "How much it makes.", "4 loaves", also="serves, servings, makes, portions, quantity"),
    Field("times", "record", "How long it takes.", "{prep: 20 min, total: 2 h}", also="time, duration", of=TIMES),
    Field("category", "words", "The kind of dish.", "Bread", also="course, categories, type"),
    Field("cuisine", "words", "Where the dish comes from.", "Mediterranean", also="cuisines, origin, region"),
    Field("keywords", "words", "Words to find it by.", "[bread, overnight]", also="tags, labels"),
    Field(
        "equipment",
        "texts",
        "What one needs besides the food.",
        "\n  - kitchen scale\n  - wire rack",
        also="tools, utensils, kit",
    ),
    Field(
        "ingredients",
        "lines",
        "The ingredients of a recipe that has one part only.",
        "\n  - 650 g or 2 3/4 cups water",
        also="ingredient",
    ),
    Field(
        "components",
        "components",
        "The parts of the dish, each with its ingredients.",
        "\n  dough:\n    - 650 g or 2 3/4 cups water"
        "\n  sauce:\n    title: For the sauce\n    ingredients:\n      - 2 tbsp (28 g) olive oil",
        also="parts, component, sections",
    ),
    Field(
        "steps",
        "steps",
        "What to do, in cooking order.",
        "\n  - Mix everything.\n  - Bake it.",
        required=True,
        also="method, instructions, directions, step, procedure",
    ),
    Field("notes", "texts", "What else to know.", "Keeps three days.", also="note, tips, remarks"),
    Field(
        "substitutions",
        "substitutions",
        "What may stand in for what.",
        "{tahini: Plain yogurt.}",
        also="substitution, swaps, alternatives",
        of=SUBSTITUTION,
    ),
    Field(
        "nutrition",
        "record",
        "Figures that you have from elsewhere; nothing is worked out.",
        "{serving: 1 slice, calories: 240 kcal}",
        also="nutrients, nutritional information",
        of=NUTRITION,
    ),
    Field(
        "video",
        "record",
        "The film.",
        "{address: https://video.example/loaf, length: 12:34}",
        also="film, movie",
        of=VIDEO,
        short="address",
    ),
    Field(
        "photos",
        "records",
        "Pictures of the finished dish.",
        "{file: loaf.jpg, alt: A round loaf on a board.}",
        also="photo, image, images, pictures",
        of=PHOTO,
        short="file",
    ),
    Field(
        "accept",
        "records",
        "Findings that are right as they stand, each with a reason.",
        "\n  - finding: pair-disagrees\n    where: starter\n    reason: Stirred down first.",
        also="accepted, ignore, allow",
        of=ACCEPT,
    ),
)

CHAPTERS = (
    Field("least", "number", "The fewest chapter marks that count.", "3", also="minimum, min"),
    Field("shortest", "moment", "The shortest chapter.", "10 s", also="length"),
    Field("title", "number", "The longest chapter title, in characters.", "60", also="longest"),
)

LINK = (
    Field(
        "title", "text", "What the link is called.", "The kitchen scale I use", required=True, also="name, text, label"
    ),
    Field("address", "address", "Where it leads.", "https://shop.example/scale", required=True, also="url, link, href"),
)

CHANNEL = (
    Field("name", "text", "The channel's name.", "The Tin Whisk", also="title, channel"),
    Field("tagline", "text", "One line about it.", "One recipe a week.", also="subtitle, slogan, description"),
    Field("author", "text", "Who cooks.", "The Tin Whisk", also="cook, by"),
    Field("address", "address", "The site's own address.", "https://the-tin-whisk.example", also="url, site, website"),
    Field(
        "language",
        "language",
        "The language the recipes are written in, as BCP 47 has it.",
        "en-US",
        also="lang, locale",
    ),
    Field(
        "cup",
        "choice",
        "Whose cup and spoon the audience has.",
        "us",
        also="cups, standard, measures",
        choices=STANDARDS,
    ),
    Field("lead", "choice", "Which measure stands first.", "weight", choices=("weight", "volume"), also="first"),
    Field("fan", "flag", "Print the fan oven's heat too.", "yes", also="convection"),
    Field("gas", "flag", "Print the gas mark too.", "no", also="gas mark"),
    Field("paper", "choice", "What prints are laid out for.", "letter", choices=("letter", "a4")),
    Field(
        "chapters",
        "record",
        "The film platform's limits for chapter marks.",
        "{least: 3, shortest: 10 s, title: 60}",
        of=CHAPTERS,
    ),
    Field("footer", "text", "The last line of every page.", "Weigh what you can."),
    Field(
        "social",
        "records",
        "Where else the channel is found.",
        "\n  - title: Pictures\n    address: https://pictures.example/tin-whisk",
        also="profiles, elsewhere",
        of=LINK,
    ),
    Field(
        "links",
        "records",
        "Links that stand in the text under every film.",
        "\n  - title: The scale I use\n    address: https://shop.example/scale",
        of=LINK,
    ),
)
