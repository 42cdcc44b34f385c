"""The ground: elevation data brought to one local metric grid, and what can be read off it."""
