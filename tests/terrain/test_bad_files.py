"""Files that can't be used: each ends in one clear `TerrainError`, and nothing is fetched."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from affine import Affine
from rasterio.errors import NotGeoreferencedWarning, RasterioError

from planner.errors import TerrainError
from planner.terrain.files import OFFLINE
from planner.terrain.read import read_terrain
from tests.terrain.conftest import Raster, hills

AT = Affine(2.0, 0.0, 500_400.0, 0.0, -2.0, 5_200_600.0)


def refused(path: Any, words: str, **settings: Any) -> None:
    with pytest.raises(TerrainError, match=words) as caught:
        read_terrain(path, **settings)
    assert "\n" not in caught.value.message


def test_missing(tmp_path: Path) -> None:
    refused(tmp_path / "nope.tif", r"there is no elevation file '.*nope\.tif'")


def test_folder(tmp_path: Path) -> None:
    refused(tmp_path, "is a folder")


def test_none_given() -> None:
    refused([], "give 1 to 1000")


def test_name_no_system_takes() -> None:
    refused("a\0b.tif", "there is no elevation file")


def test_empty(tmp_path: Path) -> None:
    (tmp_path / "a.tif").touch()
    refused(tmp_path / "a.tif", r"'a\.tif' is empty")


def test_text(tmp_path: Path) -> None:
    (tmp_path / "a.tif").write_text("heights to follow")
    refused(tmp_path / "a.tif", r"'a\.tif' can't be read")


@pytest.mark.parametrize("share", [0.01, 0.5, 0.95])
def test_truncated(raster: Raster, share: float) -> None:
    path = raster("a.tif", hills(), AT)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * share)])
    refused(path, r"'a\.tif' can't be read|is damaged|does not say where")


def test_truncated_text_grid(tmp_path: Path) -> None:
    path = tmp_path / "a.asc"
    path.write_text("ncols 3\nnrows 3\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3\n4 5\n")
    refused(path, r"'a\.asc'", crs="EPSG:32633")


@pytest.mark.parametrize("band", [0, -1, 2])
def test_no_such_band(raster: Raster, band: int) -> None:
    refused(raster("a.tif", hills(), AT), f"bands 1 to 1, band {band}", band=band)


def test_no_coordinate_system(raster: Raster) -> None:
    refused(raster("a.tif", hills(), AT, crs=None), "no coordinate system; give one")


def test_no_position(raster: Raster) -> None:
    with pytest.warns(NotGeoreferencedWarning):
        path = raster("a.tif", hills(), Affine.identity(), crs=None)
    refused(path, "does not say where on the ground", crs="EPSG:32633")


def test_no_plain_numbers(raster: Raster) -> None:
    refused(raster("a.tif", hills(), AT, dtype="complex64"), "no plain numbers")


def test_more_cells_than_can_be_read(tmp_path: Path) -> None:
    path = tmp_path / "a.vrt"
    path.write_text(
        '<VRTDataset rasterXSize="90000" rasterYSize="90000"><SRS>EPSG:32633</SRS>'
        "<GeoTransform>500000, 1, 0, 5200000, 0, -1</GeoTransform>"
        '<VRTRasterBand dataType="Float64" band="1"/></VRTDataset>'
    )
    refused(path, "too many to read")


# --- nothing is fetched, nothing is run -------------------------------------------------------


@pytest.fixture
def server() -> Iterator[tuple[str, list[str]]]:
    """A web server on this machine and the list of what it was asked for."""
    asked: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_error(404)

        do_HEAD = do_GET  # noqa: N815

        def log_message(self, format: str, *args: Any) -> None:
            pass

    http = HTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=http.serve_forever, args=(0.02,), daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{http.server_port}", asked
    http.shutdown()
    http.server_close()
    thread.join()


@pytest.mark.parametrize("form", ["{}/a.tif", "/vsicurl/{}/a.tif", "/vsizip/vsicurl/{}/a.zip"])
def test_addresses_are_refused(server: tuple[str, list[str]], form: str) -> None:
    address, asked = server
    refused(form.format(address), "from this machine only")
    assert asked == []


VIRTUAL = (
    '<VRTDataset rasterXSize="9" rasterYSize="9"><SRS>EPSG:32633</SRS>'
    "<GeoTransform>500000, 1, 0, 5200000, 0, -1</GeoTransform>"
    '<VRTRasterBand dataType="Float32" band="1" {kind}>{body}</VRTRasterBand></VRTDataset>'
)
SERVICE = (
    '<GDAL_WMS><Service name="TMS"><ServerUrl>{}/${{z}}/${{x}}/${{y}}</ServerUrl></Service>'
    "<DataWindow><UpperLeftX>0</UpperLeftX><UpperLeftY>9</UpperLeftY><LowerRightX>9</LowerRightX>"
    "<LowerRightY>0</LowerRightY><SizeX>9</SizeX><SizeY>9</SizeY></DataWindow></GDAL_WMS>"
)


@pytest.mark.parametrize("name", ["a.vrt", "a.tif"])
@pytest.mark.parametrize("source", ["/vsicurl/{}/a.tif", "{}/a.tif", "&#47;vsicurl/{}/a.tif"])
def test_virtual_raster_of_a_remote_file(
    tmp_path: Path, server: tuple[str, list[str]], name: str, source: str
) -> None:
    address, asked = server
    body = f"<SimpleSource><sourcefilename>{source.format(address)}</sourcefilename></SimpleSource>"
    (tmp_path / name).write_text(VIRTUAL.format(kind="", body=body))
    refused(tmp_path / name, "no file on this machine")
    assert asked == []


def test_virtual_raster_of_a_service(tmp_path: Path, server: tuple[str, list[str]]) -> None:
    address, asked = server
    (tmp_path / "wms.tif").write_text(SERVICE.format(address))
    body = '<SimpleSource><SourceFilename relativeToVRT="1">wms.tif</SourceFilename></SimpleSource>'
    (tmp_path / "a.vrt").write_text(VIRTUAL.format(kind="", body=body))
    refused(tmp_path / "a.vrt", "describes data kept elsewhere")
    refused(tmp_path / "wms.tif", "describes data kept elsewhere")
    assert asked == []


def test_virtual_raster_with_a_program(tmp_path: Path) -> None:
    body = "<PixelFunctionLanguage>Python</PixelFunctionLanguage>"
    (tmp_path / "a.vrt").write_text(
        VIRTUAL.format(kind='subClass="VRTDerivedRasterBand"', body=body)
    )
    refused(tmp_path / "a.vrt", "holds a program")


def test_virtual_raster_of_itself(tmp_path: Path) -> None:
    body = '<SimpleSource><SourceFilename relativeToVRT="1">a.vrt</SourceFilename></SimpleSource>'
    (tmp_path / "a.vrt").write_text(VIRTUAL.format(kind="", body=body))
    refused(tmp_path / "a.vrt", "nested or long")


def test_virtual_raster_with_entities(tmp_path: Path) -> None:
    bomb = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'
    (tmp_path / "a.vrt").write_text(VIRTUAL.format(kind="", body="&b;") + bomb)
    refused(tmp_path / "a.vrt", "entities")


def test_virtual_raster_that_is_no_xml(tmp_path: Path) -> None:
    (tmp_path / "a.vrt").write_text("<VRTDataset><oops>")
    refused(tmp_path / "a.vrt", "not well-formed")


def test_the_reader_itself_is_offline(server: tuple[str, list[str]]) -> None:
    address, asked = server
    with rasterio.Env(**OFFLINE), pytest.raises(RasterioError):
        rasterio.open(f"/vsicurl/{address}/a.tif")
    assert asked == []


def test_messages_name_the_file_and_not_its_folder(tmp_path: Path, raster: Raster) -> None:
    path = raster("a.tif", np.full((5, 5), -9999.0), AT)
    with pytest.raises(TerrainError) as caught:
        read_terrain(path)
    assert "a.tif" in caught.value.message
    assert str(tmp_path) not in caught.value.message
