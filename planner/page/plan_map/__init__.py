"""The plan on the page: a NiceGUI element on the Leaflet that NiceGUI ships.

The scripts in `script/` draw the views of `planner.live.value` in the terrain's own metres and
tell what hands do; `element` is the door from Python, `style` and `looks` hand on the one visual
language of `planner.output`.
"""
