"""The printed sheets: one longitudinal section a line, drawn at true scales in mm on paper."""
