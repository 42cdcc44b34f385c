"""Files for other programs: a GeoPackage and a drawing, with every figure of the plan."""
