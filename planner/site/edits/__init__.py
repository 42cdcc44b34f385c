"""Changes to a site's two texts, one at a time; what a hand wrote between them stays."""
