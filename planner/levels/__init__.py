"""Levels measured on the ground: reduced, adjusted together, and a terrain bent to them."""
