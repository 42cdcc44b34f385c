"""The page itself: a folium map that loads nothing, and the sheet of paper around it."""

from typing import Any

import folium
from branca.element import Figure, MacroElement
from folium.template import Template

from planner.output.map.assets import (
    TEMPLATES,
    content_policy,
    leaflet_script,
    leaflet_style,
    own_file,
)
from planner.output.map.layers import DrawnRoute

SCRIPTS = (
    "along.js", "labels.js", "ticks.js", "position.js", "outward.js", "stakes.js", "map.js",
)  # fmt: skip
STYLES = ("map.css", "field.css")


class OfflineMap(folium.Map):
    """A folium map without one remote file; Leaflet stands on the sheet itself."""

    default_js: list[tuple[str, str]] = []  # noqa: RUF012  # folium reads them on the class
    default_css: list[tuple[str, str]] = []  # noqa: RUF012

    _template = Template(
        """
        {% macro html(this, kwargs) %}
            <div class="folium-map" id={{ this.get_name()|tojson }}></div>
        {% endmacro %}
        {% macro script(this, kwargs) %}
            var {{ this.get_name() }} = L.map({{ this.get_name()|tojson }}, {
                center: {{ this.location|tojson }},
                ...{{ this.options|tojavascript }}
            });
        {% endmacro %}
        """
    )


class Start(MacroElement):
    """Hands the map, its layers and its lines to the page's own script.

    Parameters
    ----------
    groups : dict of str to folium.FeatureGroup
    lines : list of folium.PolyLine
        The wide, unseen strokes that take the pointer, in the order of the scene's lines.
    findings : list of folium.Marker
    routes : list of DrawnRoute
    """

    _template = Template(
        """
        {% macro script(this, kwargs) %}
            startSheet({
                map: {{ this._parent.get_name() }},
                groups: { {%- for key, group in this.groups.items() %}
                    {{ key|tojson }}: {{ group.get_name() }},{% endfor %}
                },
                lines: [{% for line in this.lines %}{{ line.get_name() }},{% endfor %}],
                findings: [{% for marker in this.findings %}{{ marker.get_name() }},{% endfor %}],
                routes: [ {%- for route in this.routes %}
                    {
                        group: {{ route.group.get_name() }},
                        seen: {{ route.seen.get_name() }},
                        hit: {{ route.hit.get_name() }}
                    },{% endfor %}
                ]
            });
        {% endmacro %}
        """
    )

    def __init__(
        self,
        groups: dict[str, folium.FeatureGroup],
        lines: list[folium.PolyLine],
        findings: list[folium.Marker],
        routes: list[DrawnRoute],
    ) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self._name = "Start"
        self.groups = groups
        self.lines = lines
        self.findings = findings
        self.routes = routes


class Sheet(Figure):
    """The page round the map.

    Parameters
    ----------
    content : dict
        What `page.html.jinja` shows beside the map; the template escapes all of it.
    """

    def __init__(self, content: dict[str, Any]) -> None:
        super().__init__(height="820px")
        self.content = content

    def render(self, **kwargs: Any) -> str:
        """The whole page as HTML."""
        for child in self._children.values():
            child.render(**kwargs)
        first = own_file("live.js")
        later = [leaflet_script(), *map(own_file, SCRIPTS), self.script.render(**kwargs)]
        return TEMPLATES.get_template("page.html.jinja").render(
            **self.content,
            policy=content_policy([first, *later]),
            styles=[leaflet_style(), *map(own_file, STYLES)],
            first=first,
            later=later,
            header=self.header.render(**kwargs),
            map=self.html.render(**kwargs),
        )
