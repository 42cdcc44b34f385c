"""Opening elevation files: local ones only, and every failure one clear `TerrainError`.

Some raster formats are descriptions that point elsewhere: a file of a few lines can make the
reader fetch an address. Such files are told by their first bytes and refused; virtual rasters
are looked through, and each file they name must be a local raster itself. As a second lock the
reader's own network access is closed.
"""

import stat
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Xml

import rasterio
from rasterio.errors import NotGeoreferencedWarning, RasterioError

from planner.errors import TerrainError

# Only names with this ending may be fetched, and no name has it.
OFFLINE = {
    "CPL_VSIL_CURL_ALLOWED_EXTENSIONS": "{none}",
    "GDAL_VRT_ENABLE_PYTHON": "NO",
    "GDAL_HTTP_MAX_RETRY": "0",
    "GDAL_HTTP_TIMEOUT": "1",
}
HEADER_BYTES = 4096
LARGEST_VIRTUAL = 5_000_000  # bytes of a virtual raster's description
MOST_SOURCES = 10_000
DEEPEST_NESTING = 3


def local_file(path: str | Path) -> Path:
    """The absolute path of an elevation file that exists on this machine.

    Raises
    ------
    TerrainError
        There is no such file, it is a folder, or it is empty.
    """
    text = str(path)
    if "://" in text or text.startswith("/vsi"):
        msg = f"elevation files are read from this machine only, got {text!r}; download it first"
        raise TerrainError(msg)
    try:
        found = Path(path).expanduser().resolve()
        status = found.stat()
    except (OSError, ValueError, RuntimeError) as error:
        msg = f"there is no elevation file {text!r} that can be reached; check its name and folder"
        raise TerrainError(msg) from error
    if not stat.S_ISREG(status.st_mode):
        msg = f"{text!r} is a folder or a device; name the elevation file in it"
        raise TerrainError(msg)
    if status.st_size == 0:
        msg = f"the elevation file {found.name!r} is empty; copy or download it again"
        raise TerrainError(msg)
    return found


@contextmanager
def open_raster(path: Path) -> Iterator[Any]:
    """A rasterio dataset, open while the context lasts.

    Raises
    ------
    TerrainError
        The file is no raster, is damaged, or points to a network address; also when reading
        inside the context fails.
    """
    try:
        with warnings.catch_warnings(), rasterio.Env(**OFFLINE):
            warnings.simplefilter("ignore", NotGeoreferencedWarning)
            with rasterio.open(path) as dataset:
                yield dataset
    except RasterioError as error:
        msg = (
            f"{path.name!r} can't be read as elevation data: it is no raster, or it is damaged; "
            "give a raster such as a GeoTIFF, or download it again"
        )
        raise TerrainError(msg) from error


def refuse_remote(path: Path, depth: int = 0) -> None:
    """Raise `TerrainError` if a file would make the reader look outside this machine."""
    try:
        with path.open("rb") as file:
            head = file.read(HEADER_BYTES).lstrip(b"\xef\xbb\xbf \t\r\n")
    except OSError as error:
        msg = f"{path.name!r} can't be read: {error.strerror}"
        raise TerrainError(msg) from error
    if b"<VRTDataset" in head:
        _refuse_remote_sources(path, depth)
    elif head[:1] in (b"<", b"{") or ".gti." in path.name.lower():
        msg = (
            f"{path.name!r} describes data kept elsewhere; give the elevation raster itself, "
            "such as a GeoTIFF"
        )
        raise TerrainError(msg)


def _refuse_remote_sources(path: Path, depth: int) -> None:
    if depth >= DEEPEST_NESTING or path.stat().st_size > LARGEST_VIRTUAL:
        msg = f"the virtual raster {path.name!r} is nested or long beyond reason"
        raise TerrainError(msg)
    sources = _sources(path)
    if len(sources) > MOST_SOURCES:
        msg = f"the virtual raster {path.name!r} names {len(sources)} files, over {MOST_SOURCES}"
        raise TerrainError(msg)
    for source in sources:
        if not source.is_file():
            msg = (
                f"the virtual raster {path.name!r} names {str(source)!r}, which is no file on "
                "this machine"
            )
            raise TerrainError(msg)
        refuse_remote(source, depth + 1)


def _sources(path: Path) -> list[Path]:
    """The files a virtual raster reads from, as it names them."""
    text = path.read_bytes()
    if b"<!DOCTYPE" in text or b"<!ENTITY" in text:
        msg = f"the virtual raster {path.name!r} declares entities, which none needs"
        raise TerrainError(msg)
    try:
        tree = Xml.fromstring(text)  # noqa: S314  no DOCTYPE, so no entity can expand
    except Xml.ParseError as error:
        msg = f"the virtual raster {path.name!r} is not well-formed XML: {error}"
        raise TerrainError(msg) from error
    sources = []
    for element in tree.iter():
        tag = element.tag.lower()
        if tag.startswith("pixelfunction"):
            msg = f"the virtual raster {path.name!r} holds a program; give a plain mosaic of files"
            raise TerrainError(msg)
        if tag in {"sourcefilename", "sourcedataset"}:
            name = (element.text or "").strip()
            beside = element.get("relativeToVRT", element.get("relativetoVRT", "0")) == "1"
            sources.append(path.parent / name if beside else Path(name))
    return sources
