"""A site file that says all there is to say of the field."""

FIELD = """
[measured]
levels = ["levels.csv", "field/hose.csv"]  # booked on the 20th
unit = "ft"
stakes = "stakes.csv"
reach = "60 m"
timings = [["20 L", "38 s"], ["20 L", "40 s"]]
date = 2026-08-20
flow_season = "dry"
[measured.walked]
delivery = "walk.gpx"
distribution-trough = "field/walk 2.gpx"
[[built]]
line = "supply"
along = "field/laid.gpx"
marks = "marks.csv"
date = 2026-09-12
depth = "2 ft"
photos = ["trench-1.jpg", "<b>.jpg"]
note = "warning tape at half the depth"
[[built]]
line = "drive"
depth = "-0.3 m"
[papers]
paper = "A3"
revision = "B"
drawn_by = "R. Larch"
owner = "the hollow's commons"
datum = "peg at the spring, 100.00 m"
stake_interval = "25 ft"
told = ["the water authority", "the neighbour below"]
[rates]
allowance = "4 %"
rough_allowance = 0.12
trench_width = "12 in"
bedding = "10 cm"
ground = "stony"
lay = "200 ft/day"
load = "55 lb"
prices = "prices.csv"
currency = "EUR"
[rates.dig]
soft = "4 m3/day"
rock = "0.5 cu yd/day"
"""
