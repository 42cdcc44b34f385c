"""The water figures as groups of rows: label, figure, and what the figure hangs on."""
