"""Several papers and scans as one PDF with bookmarks, or as a ZIP with a list of hashes.

Parts go to a folder as they are made and are read back one by one, so that memory does not grow with their number.
"""

import json
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

from django.utils.translation import gettext

from register.papers.codes import canonical

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The time of every file in a ZIP: the same parts give the same bytes."""
VOLUME = 100
"""Parts that are bound at a time."""
PICTURES = ("jpeg", "jpg", "png")


@dataclass(frozen=True, slots=True)
class Part:
    """One file of the bundle. `place`: the headings that it stands under, from the outermost in; `scan`: it was sent
    in, and no room is left on its sides.
    """

    name: str
    title: str
    place: tuple[str, ...]
    sha256: str
    size: int
    scan: bool = False


@dataclass
class Bundle:
    """Parts in their order, kept in a folder."""

    folder: Path
    parts: list[Part] = field(default_factory=list)

    def add(self, name: str, title: str, place: tuple[str, ...], data: bytes, scan: bool = False) -> Part:
        """Write a part. A name that is taken gets a number; the same bytes under one heading are kept once.

        Raises ValueError for a name that leads out of the folder, here or wherever the ZIP is unpacked.
        """
        if any(part in ("", ".", "..") for part in name.split("/")) or "\\" in name or ":" in name:
            raise ValueError(f"no name of a file: {name!r}")
        digest = sha256(data).hexdigest()
        for part in self.parts:
            if part.sha256 == digest and part.place == place:
                return part
        made = Part(self._free(name), title, place, digest, len(data), scan)
        path = self.folder / made.name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        self.parts.append(made)
        return made

    def _free(self, name: str) -> str:
        taken = {part.name for part in self.parts}
        stem, dot, ending = name.rpartition(".")
        names = (name, *(f"{stem}-{at}{dot}{ending}" for at in range(2, len(taken) + 3)))
        return next(one for one in names if one not in taken)

    def manifest(self, **more: Any) -> dict[str, Any]:
        """What is inside, each with its hash."""
        parts = [
            {
                "file": part.name,
                "title": part.title,
                "under": list(part.place),
                "sha256": part.sha256,
                "size": part.size,
            }
            for part in self.parts
        ]
        return {**more, "parts": parts}

    def write_zip(self, target: Path, first: Sequence[tuple[str, bytes]], **more: Any) -> None:
        """All parts, the given files before them, and manifest.json, which names every one but itself."""
        own = [{"file": name, "sha256": sha256(data).hexdigest(), "size": len(data)} for name, data in first]
        listed = self.manifest(**more)
        listed["parts"] = own + listed["parts"]
        with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as packed:
            for name, data in (("manifest.json", json.dumps(listed, indent=1, ensure_ascii=False).encode()), *first):
                packed.writestr(_entry(name), data)
            for part in self.parts:
                packed.writestr(_entry(part.name), (self.folder / part.name).read_bytes())

    def sides(self) -> list[int]:
        """How many sides each part has; a picture has one."""
        import pikepdf

        found = []
        for part in self.parts:
            if _is_picture(part):
                found.append(1)
                continue
            with pikepdf.open(self.folder / part.name) as opened:
                found.append(len(opened.pages))
        return found

    def leave_out_unreadable(self) -> list[Part]:
        """Take out the parts that cannot be opened, as a damaged scan, and name them."""
        import pikepdf
        from PIL import Image

        found = []
        for part in self.parts:
            path = self.folder / part.name
            try:
                with Image.open(path) if _is_picture(part) else pikepdf.open(path) as opened:
                    _ = opened.load() if _is_picture(part) else opened.pages[0]
            except (OSError, SyntaxError, IndexError, pikepdf.PdfError, Image.DecompressionBombError):
                found.append(part)
        self.parts = [part for part in self.parts if part not in found]
        return found

    def write_pdf(self, target: Path, cover: bytes, title: str, **more: Any) -> int:
        """One PDF: the cover, then every part, a bookmark for each and for its headings. Returns the number of sides.

        The list of parts with their hashes is attached. Scans that are pictures get a side of their own. Every side
        says where it stands in the whole, beside what the paper says of its own sides.
        """
        import pikepdf

        from register.base.pdf_running import run_along

        with pikepdf.new() as whole:
            self._append(whole, BytesIO(cover))
            marks = [pikepdf.OutlineItem(title, 0)]
            known: dict[tuple[str, ...], Any] = {}
            at = len(whole.pages)
            starts, scans = [], set()
            for first in range(0, len(self.parts), VOLUME):
                volume, sides = self._volume(first)
                for part, count in zip(self.parts[first : first + VOLUME], sides, strict=True):
                    starts.append(at)
                    scans |= set(range(at, at + count)) if part.scan or _is_picture(part) else set()
                    at += count
                self._append(whole, volume)
            run_along(whole, running(len(whole.pages)), scans)
            for part, at in zip(self.parts, starts, strict=True):
                siblings = marks
                for depth in range(1, len(part.place) + 1):
                    here = part.place[:depth]
                    if here not in known:
                        known[here] = pikepdf.OutlineItem(here[-1], at)
                        siblings.append(known[here])
                    siblings = known[here].children
                siblings.append(pikepdf.OutlineItem(part.title, at))
            with whole.open_outline() as outline:
                outline.root.extend(marks)
            whole.docinfo["/Title"] = title
            listed = canonical(self.manifest(**more))
            whole.attachments["manifest.json"] = pikepdf.AttachedFileSpec(whole, listed, mime_type="application/json")
            whole.save(target, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
            return len(whole.pages)

    def _volume(self, first: int) -> tuple[Path, list[int]]:
        """Some parts as one file, and the sides of each: a system lets a process keep so many files open only."""
        import pikepdf

        target, sides = self.folder / f"volume-{first}.bound", []
        with pikepdf.new() as volume:
            for part in self.parts[first : first + VOLUME]:
                before = len(volume.pages)
                self._append(volume, self._as_pdf(part))
                sides.append(len(volume.pages) - before)
            volume.save(target, deterministic_id=True)
        return target, sides

    @staticmethod
    def _append(whole: Any, source: Path | BytesIO) -> None:
        """The pages of a file, which stays open as long as the whole: they are read only when they are written."""
        import pikepdf

        whole.pages.extend(pikepdf.open(source).pages)

    def _as_pdf(self, part: Part) -> Path | BytesIO:
        path = self.folder / part.name
        if not _is_picture(part):
            return path
        from PIL import Image

        out = BytesIO()
        with Image.open(path) as picture:
            picture.convert("RGB").save(out, "PDF", resolution=max(72.0, picture.width / 7.5))
        out.seek(0)
        return out


def running(total: int) -> list[str]:
    """What stands at the foot of each side of so many."""
    words = {"total": total}
    return [gettext("pack side %(side)s of %(total)s") % {"side": side, **words} for side in range(1, total + 1)]


def _is_picture(part: Part) -> bool:
    return part.name.lower().rpartition(".")[2] in PICTURES


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, EPOCH)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    return entry
