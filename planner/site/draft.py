"""`Draft`: a site while it is worked on: the texts of its two files, as they stand on disk."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Draft:
    """The site file and the sketch file beside it, whole and ready to be written.

    Attributes
    ----------
    folder : Path
        Where both files lie, absolute; paths in the site file are seen from here.
    site_name : str
        The site file's name, such as "larch-hollow.toml".
    site : str
        Its text, TOML.
    sketch_name : str
        The sketch file's name, "" where the sketch stands in the site file itself or in a file of
        another kind than GeoJSON: the first change to the sketch moves it to a GeoJSON file.
    sketch : str
        Its text, GeoJSON, "" without such a file.
    """

    folder: Path
    site_name: str
    site: str
    sketch_name: str = ""
    sketch: str = ""

    @property
    def site_path(self) -> Path:
        """Where the site file lies."""
        return self.folder / self.site_name

    @property
    def sketch_path(self) -> Path | None:
        """Where the sketch file lies, None where there is none yet."""
        return self.folder / self.sketch_name if self.sketch_name else None
