"""Small drawings of points and tools, in the language of map and sheets."""

_BOX = '<svg viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">{}</svg>'
_LETTER = '<text x="10" y="14" text-anchor="middle">{}</text>'

GLYPHS: dict[str, str] = {
    "source": _BOX.format('<circle cx="10" cy="10" r="8"/>' + _LETTER.format("S")),
    "chamber": _BOX.format('<rect x="2.5" y="2.5" width="15" height="15"/>' + _LETTER.format("C")),
    "pump": _BOX.format(
        '<path d="M10 1.5 17.6 5.8V14.2L10 18.5 2.4 14.2V5.8Z"/>' + _LETTER.format("R")
    ),
    "tank": _BOX.format(
        '<rect x="2" y="2.5" width="16" height="15" rx="4"/>'
        '<path class="water" d="M4 6.5h12"/>' + _LETTER.format("T")
    ),
    "outlet": _BOX.format('<circle cx="10" cy="10" r="4.5"/>'),
    "way": _BOX.format('<path class="pipe" d="M2 13 18 7"/><path class="tick" d="M8 4l4 12"/>'),
    "area": _BOX.format('<path class="ring" d="M3 6 11 2.5 17.5 8 14 17 5 15Z"/>'),
    "measure": _BOX.format('<path d="M3 16 17 4M1.5 13.5l3.4 4.2M15.2 2.4l3.4 4.2"/>'),
}
