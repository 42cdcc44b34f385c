"""A site file that says all there is to say of its water."""

WATER = """
[source]
timings = [["20 L", "38 s"], ["20 L", "40 s"], ["20 L", "37 s"]]
season = "wet"
season_factor = [0.3, "70 %"]
[water]
temperature = "50 F"
[pump]
closing_velocity = "0.8 m/s"
measured = [{drive_flow = "22 L/min", fall = "4.8 m", lift = "33 m", delivered = "2.3 L/min"}]
[need.count]
person_village = 4
sheep = 30
garden = 120.5
[tank]
volume = "5 m3"
base = "2.5 m2"
stand = "1.2 m"
[lines.delivery]
pipe = "1 in"
standard = "ISO 4427"
pressure_class = "PN 10"
fittings = {elbow = 2, ball_valve = 1}
[[pipes]]
standard = "my coils"
size = "25 mm"
bore = "20.4 mm"
outside = "25 mm"
rating = "100 m"
[[pipes]]
standard = "my sticks"
size = "2 in"
bore = "52 mm"
outside = "60 mm"
rating = "10 bar"
roughness = "0.1 mm"
bend_radius = "30 m"
coil = "6 m"
"""
