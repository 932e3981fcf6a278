"""Do two statements of one heat, or of one time, agree?"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from pipeline.measure.duration import say_duration
from pipeline.measure.food_heat import food
from pipeline.measure.fractions import say_number
from pipeline.measure.heat import GAS_MARKS, Duration, Heat, celsius, on_scale, to_celsius
from pipeline.measure.oven import to_dial, without_fan
from pipeline.measure.pair import Status, Verdict
from pipeline.measure.record import replace
from pipeline.measure.slips import Slip

Kind = Literal["oven", "food"]

# °C between two statements that still count as one: half a dial step of either scale for an oven (25 °F is 14 °C, dials
# in °C go by 10 or 5), a degree for food. Common practice, no source.
_NEAR: dict[Kind, Fraction] = {"oven": Fraction(6), "food": Fraction(1)}
_FAR: dict[Kind, Fraction] = {"oven": Fraction(9), "food": Fraction(5, 2)}
COLD = Fraction(10)  # °C; up to here a refrigerator or freezer is meant, which must be as cold or colder


def kind_of(a: Heat, b: Heat) -> Kind:
    """Whether a pair reads like an oven's dial or a thermometer: gas marks, fans, hot round numbers are an oven's."""
    if "gas" in (a.scale, b.scale) or a.fan or b.fan:
        return "oven"
    if max(*celsius(a), *celsius(b)) >= 125:
        return "oven"
    round_ones = all(h.low % (25 if h.scale == "F" else 10) == 0 for h in (a, b))
    return "oven" if round_ones and min(*celsius(a), *celsius(b)) >= 85 else "food"


def _ends(heat: Heat, like: Heat) -> tuple[Fraction, Fraction]:
    """The two ends in °C, without a fan. A gas mark beside °F is what cooks' tables print for it in °F."""
    if heat.fan and like.fan:  # one oven's dial, read on two scales
        return celsius(heat)
    if heat.scale == "gas" and like.scale == "F":
        low, high = (to_celsius(on_scale(mark, "gas", "F")) for mark in (heat.low, heat.high))
        return low, high
    return celsius(without_fan(heat))


def _apart(a: Heat, b: Heat) -> Fraction:
    """The larger distance in °C between the two ends."""
    (low_a, high_a), (low_b, high_b) = _ends(a, b), _ends(b, a)
    return max(abs(low_a - low_b), abs(high_a - high_b))


def compare_heat(a: Heat, b: Heat, kind: Kind | None = None) -> Verdict:
    """Compares two statements of one heat. ``kind`` None: told from the numbers. ``off`` of the verdict is in °C,
    how much hotter the first is than the second. Two heats on one scale are compared, too ("200 C fan" and "220 C")."""
    kind = kind or kind_of(a, b)
    apart = _apart(a, b)
    off = float(sum(_ends(a, b)) - sum(_ends(b, a))) / 2
    status: Status = "agrees" if apart <= _NEAR[kind] else "loose" if apart <= _FAR[kind] else "disagrees"
    why = f"{_typed(a)} is {_exact(a, b)}"
    if status == "agrees":
        return Verdict(status, off, None, (), None, why)
    slip = None if status == "loose" else _slip(a, b, kind)
    if _on_one_side(slip, a, b):
        status = "loose"  # "325 F convection (165 C)": the word may be meant for both
    return Verdict(status, off, slip, _fixes(a, b, kind, slip, off), None, why)


def _on_one_side(slip: Slip | None, a: Heat, b: Heat) -> bool:
    """Whether one side says that it is a fan oven's, and the other would fit if it said so, too."""
    return slip is not None and slip.id == "fan" and a.fan != b.fan and a.scale != b.scale


def _fixes(a: Heat, b: Heat, kind: Kind, slip: Slip | None, off: float) -> tuple[str, ...]:
    """The corrected pairs. Where meat may be meant only the hotter one is proposed: the cooler could be unsafe.

    What would stay as it was typed is not proposed; two heats on one scale become one.
    """
    if slip and slip.id == "swapped":
        return (f"{_typed(replace(a, scale=b.scale))} or {_typed(replace(b, scale=a.scale))}",)
    if slip and slip.id == "scale":
        x, y = _rescaled(a), _rescaled(b)
        near = _apart(a, y) <= _apart(x, b)
        return (f"{_typed(a)} or {_typed(y)}" if near else f"{_typed(x)} or {_typed(b)}",)
    if a.scale == b.scale and a.fan == b.fan:
        if slip and slip.id == "fan":
            first = _apart(replace(a, fan=True), b) <= _NEAR[kind]
            return (f"{_typed(replace(a, fan=first))} or {_typed(replace(b, fan=not first))}",)
        return _typed(a), _typed(b)
    both = f"{_typed(replace(a, fan=True))} or {_typed(replace(b, fan=True))}"
    keep_a = f"{_typed(a)} or {_typed(_converted(a, b, kind))}"
    keep_b = f"{_typed(_converted(b, a, kind))} or {_typed(b)}"
    if kind == "food" and min(*celsius(a), *celsius(b)) >= 50 and max(*celsius(a), *celsius(b)) < 100:
        return (keep_a,) if off > 0 else (keep_b,)
    typed = f"{_typed(a)} or {_typed(b)}"
    pairs = (keep_a, keep_b, both) if _on_one_side(slip, a, b) else (keep_a, keep_b)
    return tuple(pair for pair in pairs if pair != typed)


def _rescaled(heat: Heat) -> Heat:
    """The same number on the other degree scale."""
    return replace(heat, scale="C" if heat.scale == "F" else "F")


def _converted(heat: Heat, like: Heat, kind: Kind) -> Heat:
    """The heat on the other's scale. What reads like a thermometer's is not put on an oven's dial."""
    fit = to_dial(heat, like.scale, like.fan)
    if "gas" in (heat.scale, like.scale) or kind_of(heat, fit) == kind == "oven":
        return fit
    return food(heat, like.scale, "max" if max(celsius(heat)) <= COLD else "min")


def _typed(heat: Heat) -> str:
    """As it would be typed in a source: "450 F", "fan 210 C", "gas 8", "400-425 F"."""
    low, high = (say_number(t, glyph=False) for t in (heat.low, heat.high))
    numbers = low if low == high else f"{low}-{high}"
    if heat.scale == "gas":
        return f"gas {numbers}"
    return f"{'fan ' if heat.fan else ''}{numbers} {heat.scale}"


def _exact(heat: Heat, like: Heat) -> str:
    scale = "C" if like.scale == "gas" else like.scale
    ends = [t if scale == "C" else t * 9 / 5 + 32 for t in celsius(without_fan(heat))]
    said = [f"{float(t):.1f}".removesuffix(".0") for t in dict.fromkeys(ends)]
    return " to ".join(said) + f" °{scale}"


def _slip(a: Heat, b: Heat, kind: Kind) -> Slip | None:
    best: tuple[float, Slip] | None = None
    for cost, slip, x, y in _guesses(a, b, kind):
        low, high = celsius(without_fan(x)), celsius(without_fan(y))
        near = _NEAR[kind] if kind_of(x, y) == kind else _FAR["food"]
        if max(*low, *high) > 600 or _apart(x, y) > near:
            continue
        total = cost + float(_apart(x, y)) / 10
        if best is None or total < best[0]:
            best = (total, slip)
    if best is None and kind == "oven" and a.scale != b.scale:
        return Slip(
            "stale", "one side was changed and the other was not: each is an oven setting, but not the same one"
        )
    return best[1] if best else None


def _guesses(a: Heat, b: Heat, kind: Kind) -> Iterator[tuple[float, Slip, Heat, Heat]]:
    if {a.scale, b.scale} == {"F", "C"}:
        swapped = Slip("swapped", "°F and °C have changed places")
        yield 0.0, swapped, replace(a, scale=b.scale), replace(b, scale=a.scale)
    if a.scale == b.scale != "gas":
        for x, y, one in ((a, _rescaled(b), b), (_rescaled(a), b, a)):
            meant = Slip("scale", f"the wrong letter: `{_typed(one)}` fits as {_typed(_rescaled(one))}")
            yield 0.0, meant, x, y
    if kind == "oven" and a.scale != "gas" and b.scale != "gas":
        for x, y, one in ((a, replace(b, fan=True), b), (replace(a, fan=True), b, a)):
            if not one.fan:
                yield 0.3, Slip("fan", f"`{_typed(one)}` is the fan oven's setting, and does not say so"), x, y
    for one, other, first in ((a, b, True), (b, a, False)):
        for cost, slip, mended in _mended(one):
            yield (cost, slip, mended, other) if first else (cost - 0.05, slip, other, mended)


def _mended(heat: Heat) -> Iterator[tuple[float, Slip, Heat]]:
    if heat.low != heat.high or heat.low.denominator != 1:
        return
    digits = str(heat.low)
    if heat.scale == "gas":
        for mark in GAS_MARKS:
            if abs(mark - heat.low) == 1:
                slip = Slip("gas-mark", f"the gas mark is off by one: {say_number(mark)} fits")
                yield 0.6, slip, replace(heat, low=mark, high=mark)
        return
    if abs(heat.low) <= 40:
        sign = Slip("sign", f"a minus sign lost or too many in `{_typed(heat)}`")
        yield 0.5, sign, replace(heat, low=-heat.low, high=-heat.low)
    if heat.low < 0:
        return
    for i in range(len(digits) - 1):
        turned = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
        dialled = int(digits) % 5 == 0 and int(turned) % 5  # nobody sets an oven to 357
        if turned != digits and turned[0] not in "0-" and not dialled:
            slip = Slip("transposed", f"two digits changed places: {digits} for {turned}")
            yield 0.5, slip, replace(heat, low=Fraction(turned), high=Fraction(turned))
    for by in (10, Fraction(1, 10)):
        value = heat.low * by
        yield (
            0.6,
            Slip("decimal", f"a digit too few or too many in `{_typed(heat)}`"),
            replace(heat, low=value, high=value),
        )
    for other in range(1, 10):  # one hundred typed wrong: 350 for 450
        turned = f"{other}{digits[1:]}"
        if len(digits) == 3 and turned != digits:
            slip = Slip("wrong-digit", f"the first digit is wrong: {digits} for {turned}")
            yield (
                0.9 + abs(other - int(digits[0])) * 0.1,
                slip,
                replace(heat, low=Fraction(turned), high=Fraction(turned)),
            )


def compare_time(a: Duration, b: Duration) -> Verdict:
    """Compares two statements of one time ("30 minutes or 1/2 hour"). ``off`` is relative to the second."""
    mid_a, mid_b = Fraction(a.low + a.high, 2), Fraction(b.low + b.high, 2)
    off = float(mid_a / mid_b - 1) if mid_b else 0.0
    gap = max(abs(a.low - b.low), abs(a.high - b.high))
    near = max(min(a.near, b.near), 0)
    widest = max(a.near, b.near)
    status: Status = "agrees" if gap <= near else "loose" if gap <= widest else "disagrees"
    if a.about or b.about:
        status = "agrees" if gap <= widest else status
        if any(d.about and d.low < d.high for d in (a, b)) and a.low - widest <= b.high and b.low - widest <= a.high:
            status = "agrees"  # "overnight or 8 hours": a night is no number
    why = f"{_said(a)} and {_said(b)} are {say_duration(gap)} apart"
    if status == "agrees":
        return Verdict(status, off, None, (), None, why)
    fixes = (_both(a.text, _said(a, like=b)), _both(_said(b, like=a), b.text))
    typed = f"{a.text} or {b.text}"
    return Verdict(status, off, _time_slip(a, b), tuple(f for f in fixes if f != typed), None, why)


def _both(first: str, second: str) -> str:
    """A corrected pair of times; one time where the other would only say it again ("6 minutes or 6 min")."""
    short = [re.sub(r"\s*([a-z])[a-z.]*", r"\1", text.lower()) for text in (first, second)]
    return first if short[0] == short[1] else f"{first} or {second}"


def _said(d: Duration, like: Duration | None = None) -> str:
    hours = Fraction(d.low, 3600)
    if like and "h" in like.text.lower() and d.low == d.high and hours.denominator in (1, 2, 4):
        return f"{say_number(hours, glyph=False)} {'hours' if hours > 1 else 'hour'}"
    return say_duration(d.low) if d.low == d.high else f"{say_duration(d.low)} to {say_duration(d.high)}"


def _time_slip(a: Duration, b: Duration) -> Slip | None:
    if not (a.low and b.low):
        return None
    ratio = Fraction(a.low + a.high, b.low + b.high)
    near = {
        Fraction(60): Slip("wrong-unit", "minutes written for hours, or hours for minutes"),
        Fraction(10): Slip("decimal", "a decimal place lost"),
        Fraction(2): Slip("stale", "one side is half of the other: was one left from an earlier version?"),
    }
    for factor, slip in near.items():
        if any(abs(float(ratio / f) - 1) < 0.03 for f in (factor, 1 / factor)):
            return slip
    return None
