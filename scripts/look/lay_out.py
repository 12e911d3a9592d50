"""Lay out what nobody has looked at yet: of each picture only the bands of rows that are new.

    .venv/bin/python scripts/look/lay_out.py MODE [PREFIX]

Reads var/look/pictures/MODE/PREFIX*.png, writes var/look/sheets/MODE-NNN.png, each headed by where its bands come from
(MODE.txt lists the first of each sheet), and keeps what it laid out in var/look/seen/MODE: run again after a change, it
lays out what the change made different and nothing else. Two rows are the same where 24 rows in a run are: a line that
only moved up is not new.
"""

import sys
import zlib
from array import array
from collections.abc import Iterator
from pathlib import Path

from PIL import Image, ImageDraw

FOLDER = Path(__file__).resolve().parents[2] / "var" / "look"
RUN, NEAR, AROUND, HEAD = 24, 70, 20, 14
GROUND, LABEL = (120, 120, 120), (255, 230, 120)
SHEETS = {"390": (3, 400, 1040), "820": (1, 820, 1440), "print": (2, 665, 950), "paper": (2, 690, 960)}
"""Columns, width of each and height of a sheet in pixels: what still can be read when it is shown whole."""
WIDE = (1, 1280, 1480)


def windows(picture: Image.Image) -> list[int]:
    """One number for each run of 24 rows."""
    width, height = picture.size
    data, line = picture.tobytes(), 3 * width
    rows = [zlib.crc32(data[y * line : (y + 1) * line]) for y in range(height)]
    return [
        zlib.crc32(array("I", rows[y : y + RUN]).tobytes()) | rows[y] << 32 for y in range(max(1, height - RUN + 1))
    ]


def bands(picture: Image.Image, seen: set[int]) -> list[tuple[int, int]]:
    """First and last row of what is in no run that was seen, and is seen from now on. Plain ground is nothing."""
    height, runs = picture.size[1], windows(picture)
    known = bytearray(height)
    for y, run in enumerate(runs):
        if run in seen:
            known[y : y + RUN] = b"\1" * len(known[y : y + RUN])
    seen.update(runs)
    found: list[tuple[int, int]] = []
    for y in range(height):
        if known[y] or _plain(picture, y):
            continue
        if found and y - found[-1][1] <= NEAR:
            found[-1] = (found[-1][0], min(height, y + AROUND))
        else:
            found.append((max(0, y - AROUND), min(height, y + AROUND)))
    return found


def _plain(picture: Image.Image, y: int) -> bool:
    return len(picture.crop((0, y, picture.width, y + 1)).getcolors(2) or (0, 0)) == 1


class Sheets:
    """Bands below and beside one another, on as few sheets as hold them."""

    def __init__(self, mode: str) -> None:
        self.mode, self.count = mode, 0
        self.columns, self.width, self.height = SHEETS.get(mode, WIDE)
        self.sheet: Image.Image | None = None
        self.first = ""
        self.column = self.y = self.lowest = 0

    def add(self, label: str, band: Image.Image) -> None:
        """A band under its label; a taller one than a sheet goes on over the next."""
        room = self.height - HEAD
        for top in range(0, band.height, room):
            self._place(
                f"{label} {top or ''}", band.crop((0, top, min(band.width, self.width), min(band.height, top + room)))
            )

    def _place(self, label: str, part: Image.Image) -> None:
        if self.sheet is not None and self.y + part.height + HEAD > self.height:
            self.column, self.y = self.column + 1, 0
        if self.sheet is None or self.column >= self.columns:
            self.close()
            self.sheet = Image.new("RGB", (self.columns * self.width, self.height), GROUND)
        left = self.column * self.width
        draw = ImageDraw.Draw(self.sheet)
        draw.rectangle((left, self.y, left + self.width - 4, self.y + HEAD - 1), fill=LABEL)
        draw.text((left + 2, self.y + 1), label, fill=(0, 0, 0))
        self.first = self.first or label
        self.sheet.paste(part, (left, self.y + HEAD))
        self.y += part.height + HEAD
        self.lowest = max(self.lowest, self.y)

    def close(self) -> None:
        """Write the sheet that is being filled."""
        if self.sheet is not None:
            self.sheet.crop((0, 0, self.sheet.width, self.lowest)).save(
                FOLDER / "sheets" / f"{self.mode}-{self.count:03d}.png"
            )
            with (FOLDER / "sheets" / f"{self.mode}.txt").open("a", encoding="utf-8") as listed:
                listed.write(f"{self.count:03d} {self.first}\n")
            self.count += 1
        self.sheet, self.first = None, ""
        self.column = self.y = self.lowest = 0


def named(file: Path) -> str:
    """Whose page in which units, by the list it was photographed from; a paper by its own list."""
    user, units, number = file.stem.split("-")[:3]
    addresses = (FOLDER / f"{user}.txt").read_text(encoding="utf-8").split()
    return f"{user} {units} {addresses[int(number)]} {'-'.join(file.stem.split('-')[3:])}"


def pictures(mode: str, prefix: str) -> Iterator[tuple[str, Image.Image]]:
    for file in sorted((FOLDER / "pictures" / mode).glob(f"{prefix}*.png")):
        with Image.open(file) as picture:
            yield named(file), picture.convert("RGB")


def main(mode: str, prefix: str = "") -> None:
    kept = FOLDER / "seen" / mode
    seen = set(array("Q", kept.read_bytes())) if kept.exists() else set()
    for folder in ("sheets", "seen"):
        (FOLDER / folder).mkdir(parents=True, exist_ok=True)
    sheets, looked = Sheets(mode), 0
    sheets.count = before = len(list((FOLDER / "sheets").glob(f"{mode}-*.png")))
    for label, picture in pictures(mode, prefix):
        looked += 1
        for first, last in bands(picture, seen):
            sheets.add(f"{label} row {first}", picture.crop((0, first, picture.width, last)))
    sheets.close()
    kept.write_bytes(array("Q", sorted(seen)).tobytes())
    print(f"{mode}: {looked} pictures, {sheets.count - before} new sheets in {FOLDER / 'sheets'}")


if __name__ == "__main__":
    main(*sys.argv[1:3])
