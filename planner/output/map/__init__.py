"""The plan as one page that opens anywhere: an interactive map over a drawing that needs no script.

`scene` says what is drawn, in longitude/latitude and finished words. `layers` draws it with
folium, `drawing` and `section` as plain SVG for paper and for browsers with scripts off; `sheet`
puts all of it on one page. `make` is the door.
"""
