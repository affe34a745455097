"""Under the band: labour against estimate of each phase, the promise's mark and its caption."""

from __future__ import annotations

from collections.abc import Iterator

from tui.colours import Ink
from tui.lane.band import Band
from tui.parts.canvas import Canvas, Piece, width_of
from tui.signs import Signs
from tui.words import day_time, tenth

TEXT = Ink("text")
MARK = Ink("promise", bold=True)


def paint_captions(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs) -> None:
    """The row of figures: the promise first, figures where it leaves room."""
    x, y = at
    taken = paint_promise(canvas, at, band, signs)
    for place, end, text, ink in _figures(band):
        if place + len(text) <= end and not (place <= taken[1] and taken[0] <= place + len(text)):
            canvas.put_over(x + place, y, text, ink)


def _figures(band: Band) -> Iterator[tuple[int, int, str, Ink]]:
    """Place, end of the room, text and ink for each phase that was worked on."""
    starts: dict[str | None, int] = {}
    for place, what in sorted(band.past.items()):
        if what.kind in ("worked", "beyond"):
            starts.setdefault(what.phase, place)
    labels = {label.number: label for label in band.job.labels}
    ends = [*list(starts.values())[1:], band.axis.now]
    for (number, place), following in zip(starts.items(), ends, strict=False):
        label = labels.get(number or "")
        if label is None or label.labour_h <= 0:
            continue
        over = label.labour_h - label.estimate_h
        full = f"{tenth(label.labour_h)}/{tenth(label.estimate_h)}"
        bad = band.outlook is not None and band.outlook.bad
        ink = Ink("behind" if over >= 0.05 and (bad or number in band.running) else "dim")
        room = following - 1 - place
        short = f"+{tenth(over)}" if over >= 0.05 else ""
        text = full if len(full) <= room else short
        if text:
            yield place, following - 1, text, ink


def paint_promise(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs) -> tuple[int, int]:
    """Mark and caption; returns first and last column taken, (-1, -1) for none."""
    x, y = at
    if band.mark is None:
        return (-1, -1)
    start, pieces = _placed(band, signs)
    canvas.pieces(x + start, y, pieces)
    return start, start + width_of(pieces)


def paint_mark(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs) -> None:
    """In a lane of two rows: the mark on the band, a bad word over it among the labels."""
    x, y = at
    if band.mark is None or band.outlook is None:
        return
    if 0 <= band.mark < band.axis.width:
        canvas.dot(x + band.mark, y + 1, signs.promise, MARK)
    text = f" {band.outlook.short} "
    if band.outlook.bad:
        start = max(band.axis.now + 1, min(band.mark, band.axis.width - len(text)))
        for place in range(start, band.axis.width):  # half a label would be left behind the word
            kind = band.axis.columns[place].kind
            line = {"night": signs.night, "weekend": signs.weekend}.get(kind, " ")
            canvas.dot(x + place, y, line, Ink("line"))
        canvas.put(x + start, y, text, band.outlook.ink)


def _placed(band: Band, signs: Signs) -> tuple[int, list[Piece]]:
    """Where the first caption that fits begins, and its pieces, mark included."""
    mark, now, width = band.mark or 0, band.axis.now, band.axis.width
    for words in captions(band):
        size = width_of(words)
        if mark >= width:
            if size + 2 <= width - now - 1:
                return width - size - 2, [*words, (f" {signs.becomes}", MARK)]
            continue
        low, high = (now + 1, width) if mark > now else (0, now)
        if mark < 0:
            if size + 2 <= high:
                return 0, [(f"{signs.before} ", MARK), *words]
        elif mark + 2 + size <= high:
            return mark, [(f"{signs.promise} ", MARK), *words]
        elif mark - 1 - size >= low:
            return mark - 1 - size, [*words, (f" {signs.promise}", MARK)]
    if mark >= width:
        return width - 1, [(signs.becomes, MARK)]
    return max(mark, 0), [(signs.promise if mark >= 0 else signs.before, MARK)]


def captions(band: Band) -> list[list[Piece]]:
    """The promise's captions, longest first."""
    promise, outlook = band.job.promise, band.outlook
    if promise is None or outlook is None:
        return []
    when = day_time(promise, band.axis.zone, band.axis.at)
    long = _words(band, outlook.word)
    short = _words(band, outlook.short)
    return [
        [(f"promised {when}", TEXT), *long],
        [(when, TEXT), *long],
        [(when, TEXT), *short],
        [(when, TEXT), *short[:1]],
        *([[(outlook.short, outlook.ink)]] if outlook.short else []),
        [(when, TEXT)],
    ]


def _words(band: Band, word: str) -> list[Piece]:
    if not word or band.outlook is None:
        return []
    tenths = f" {band.outlook.tenths}" if band.outlook.tenths else ""
    return [(f" {word}", band.outlook.ink), (tenths, band.outlook.ink)]


def paint_short_promise(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs) -> None:
    """In a narrow lane: `Thu 12:00` and its mark, nothing between; the word stands elsewhere."""
    x, y = at
    mark, width, now = band.mark, band.axis.width, band.axis.now
    if mark is None or band.job.promise is None:
        return
    when = day_time(band.job.promise, band.axis.zone, band.axis.at)
    if mark >= width:
        start, pieces = width - len(when) - 2, [(f"{when} ", TEXT), (signs.becomes, MARK)]
    elif mark < 0:
        start, pieces = now + 1, [(signs.before, MARK), (when, TEXT)]
    elif mark - len(when) > now:
        start, pieces = mark - len(when), [(when, TEXT), (signs.promise, MARK)]
    else:
        start, pieces = mark, [(signs.promise, MARK), (when, TEXT)]
    canvas.pieces(x + start, y, pieces)
