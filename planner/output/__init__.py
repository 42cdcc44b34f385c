"""What people take away: map, sheets, files. Draws a plan, computes no water, finds no route."""
